//! The whole interface, asked as a browser asks it, but without a socket.

mod answers;
mod boundary;
mod connections;
mod farms;
mod fuzz;
mod given;
mod helpers;
mod layouts;
mod manners;
mod openapi;
mod owner;
mod runs;
mod same_digits;
mod searches;
mod sharing;
mod sheets;
