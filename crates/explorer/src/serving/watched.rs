//! Bodies of requests and answers that tell their connection's place how far they are.

use crate::limits::places::Place;
use axum::body::{Body, Bytes};
use hyper::body::{Body as HttpBody, Frame, Incoming, SizeHint};
use std::pin::Pin;
use std::task::{Context, Poll};

/// The body of a request: once it is there in whole, nobody waits for the client.
#[derive(Debug)]
pub(super) struct Question {
    body: Incoming,
    place: Place,
}

impl Question {
    pub(super) fn new(body: Incoming, place: Place) -> Self {
        if body.is_end_stream() {
            place.is_answered();
        }
        Self { body, place }
    }
}

impl HttpBody for Question {
    type Data = Bytes;
    type Error = hyper::Error;

    fn poll_frame(
        self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, hyper::Error>>> {
        let this = self.get_mut();
        let polled = Pin::new(&mut this.body).poll_frame(context);
        if matches!(polled, Poll::Ready(None)) || this.body.is_end_stream() {
            this.place.is_answered();
        }
        polled
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}

/// The body of an answer: once it is handed over, the next request is waited for.
#[derive(Debug)]
pub(super) struct Answer {
    body: Body,
    place: Place,
}

impl Answer {
    pub(super) fn new(body: Body, place: Place) -> Self {
        Self { body, place }
    }
}

impl HttpBody for Answer {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        Pin::new(&mut self.get_mut().body).poll_frame(context)
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}

impl Drop for Answer {
    fn drop(&mut self) {
        self.place.is_waited_for();
    }
}
