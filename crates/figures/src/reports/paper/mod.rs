//! The papers that leave the house beside the long report: one page for the grower, two for a client
//! and the office that shares the cost. Texts and pages only; every number is that of the views.
//!
//! Both speak of the baseline as the existing system and of the best-ranked other alternative as the
//! planned one. A paper keeps to its pages: lists are cut to what matters most, and say that more
//! stands in the report.

mod client;
mod criteria;
mod grower;
mod input;
mod steps;
mod system;

pub(crate) use client::client_html;
pub(crate) use grower::grower_html;
pub(crate) use input::{Papers, planned};
