//! The server: routes with their guards, connections, the page's files.

pub(crate) mod accept;
pub(crate) mod assets;
pub(crate) mod serve;
pub(crate) mod watched;
