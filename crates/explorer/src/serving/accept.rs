//! Connections: so many at once, none that dawdles over the head of a request, none that keeps the owner's
//! requests out by waiting, and an end to all of them when the server is stopped.

use super::watched::{Answer, Question};
use crate::limits::places::{Place, Places};
use crate::limits::{CONNECTIONS, HEAD_BYTES, Patience};
use axum::Router;
use axum::extract::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::{Service as _, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::convert::Infallible;
use std::future::Future;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};

/// How long open connections are waited for at the end.
const LAST_ANSWERS: Duration = Duration::from_secs(2);
/// Pause after the system had no connection to give (too many open files, say).
const BREATH: Duration = Duration::from_millis(200);

/// Answers whoever connects until `stop` comes to its end, then lets the last answers out.
pub(crate) async fn serve(
    listener: TcpListener,
    routes: Router,
    patience: Patience,
    stop: impl Future<Output = ()>,
) {
    let graceful = GracefulShutdown::new();
    let places = Places::new(CONNECTIONS);
    tokio::pin!(stop);
    loop {
        let (stream, place) = tokio::select! {
            next = next(&listener, &places) => next,
            () = &mut stop => break,
        };
        let mut http = http1::Builder::new();
        http.timer(TokioTimer::new()).header_read_timeout(patience.head).max_buf_size(HEAD_BYTES);
        let (routes, its) = (TowerToHyperService::new(routes.clone()), place.clone());
        let service = service_fn(move |mut request: Request<Incoming>| {
            // Whoever looks at the key says whose connection it is.
            request.extensions_mut().insert(its.clone());
            request.extensions_mut().insert(patience);
            let answer = routes.call(request.map(|body| Question::new(body, its.clone())));
            let its = its.clone();
            async move { Ok::<_, Infallible>(answer.await?.map(|body| Answer::new(body, its))) }
        });
        let connection = graceful.watch(http.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            // A connection that breaks concerns nobody but its own asker.
            tokio::select! {
                _ = connection => {}
                () = place.goes() => {}
            }
        });
    }
    drop(listener);
    tokio::select! {
        () = graceful.shutdown() => {}
        () = tokio::time::sleep(LAST_ANSWERS) => {}
    }
}

/// The next connection with a place for it.
async fn next(listener: &TcpListener, places: &Places) -> (TcpStream, Place) {
    loop {
        match listener.accept().await {
            Ok((stream, _)) => return (stream, places.take().await),
            Err(_) => tokio::time::sleep(BREATH).await,
        }
    }
}
