//! Connections: so many at once, none that dawdles over the head of a request, and an end to all of
//! them when the server is stopped.

use crate::limits::{CONNECTIONS, HEAD_BYTES, HEAD_TIME};
use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::future::Future;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// How long open connections are waited for at the end.
const LAST_ANSWERS: Duration = Duration::from_secs(2);
/// Pause after the system had no connection to give (too many open files, say).
const BREATH: Duration = Duration::from_millis(200);

/// Answers whoever connects until `stop` comes to its end, then lets the last answers out.
pub(crate) async fn serve(listener: TcpListener, routes: Router, stop: impl Future<Output = ()>) {
    let graceful = GracefulShutdown::new();
    let places = Arc::new(Semaphore::new(CONNECTIONS));
    tokio::pin!(stop);
    loop {
        let (stream, place) = tokio::select! {
            next = next(&listener, &places) => next,
            () = &mut stop => break,
        };
        let mut http = http1::Builder::new();
        http.timer(TokioTimer::new()).header_read_timeout(HEAD_TIME).max_buf_size(HEAD_BYTES);
        let service = TowerToHyperService::new(routes.clone());
        let connection = graceful.watch(http.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            let _place = place;
            // A connection that breaks concerns nobody but its own asker.
            let _ = connection.await;
        });
    }
    drop(listener);
    tokio::select! {
        () = graceful.shutdown() => {}
        () = tokio::time::sleep(LAST_ANSWERS) => {}
    }
}

/// The next connection, once there is a place for it; until then it waits in the system's queue.
async fn next(
    listener: &TcpListener,
    places: &Arc<Semaphore>,
) -> (TcpStream, Option<OwnedSemaphorePermit>) {
    // The places are never closed, so there always is one in the end.
    let place = Arc::clone(places).acquire_owned().await.ok();
    loop {
        match listener.accept().await {
            Ok((stream, _)) => return (stream, place),
            Err(_) => tokio::time::sleep(BREATH).await,
        }
    }
}
