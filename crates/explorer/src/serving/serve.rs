//! The server: routes with their guards, and the loop that answers until it is stopped.

use super::{accept, assets};
use crate::api;
use crate::api::app::App;
use crate::handlers::check::Start;
use crate::handlers::reference;
use crate::limits::fail::Fail;
use crate::limits::guard::{Gate, guard};
use crate::limits::owner::Owner;
use crate::limits::{ANSWER_TIME, BODY_BYTES, Patience};
use axum::extract::{DefaultBodyLimit, Request};
use axum::http::StatusCode;
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Response};
use axum::routing::get;
use axum::{Router, middleware};
use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::Arc;
use tokio::sync::Notify;
use tower_http::catch_panic::CatchPanicLayer;

/// All that is answered at `http://127.0.0.1:port` to whoever holds `key`.
pub fn router(start: Start, port: u16, key: &str) -> Router {
    routes(App::new(start), Gate { port, owner: Owner::with_key(port, key) })
}

fn routes(app: App, gate: Gate) -> Router {
    let answers = Router::from(api::answers())
        .route("/api/openapi.json", get(api::openapi))
        .route("/", get(assets::page))
        .route("/reference", get(reference::reference))
        .route("/{name}", get(assets::beside))
        .route("/assets/{name}", get(assets::asset))
        .layer(middleware::from_fn(in_time));
    answers
        .merge(Router::from(api::streams()))
        .fallback(|| async { Fail::not_found("There is no such address.") })
        .method_not_allowed_fallback(|| async {
            Fail::new(StatusCode::METHOD_NOT_ALLOWED, "That cannot be done at this address.")
        })
        .layer(DefaultBodyLimit::max(BODY_BYTES))
        .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| -> Response {
            Fail::fault().into_response()
        }))
        .layer(middleware::from_fn_with_state(gate, guard))
        .with_state(app)
}

/// Answers in time, or says that it could not.
async fn in_time(request: Request, next: Next) -> Response {
    let answer = tokio::time::timeout(ANSWER_TIME, next.run(request)).await;
    answer.unwrap_or_else(|_| {
        let problem = format!("This took more than {} s, so it was stopped.", ANSWER_TIME.as_secs());
        Fail::new(StatusCode::REQUEST_TIMEOUT, problem)
            .hint("The machine may be busy with other runs. Wait for them, cancel one, or use larger cells.")
            .into_response()
    })
}

/// A bound explorer, not yet running.
#[derive(Debug)]
pub struct Explorer {
    listener: TcpListener,
    address: SocketAddr,
    start: Start,
    owner: Owner,
    patience: Patience,
    stop: Arc<Notify>,
}

/// Ends a running explorer from any thread.
#[derive(Clone, Debug)]
pub struct Stopper(Arc<Notify>);

impl Stopper {
    /// Asks it to end: runs are canceled, open answers are finished.
    pub fn stop(&self) {
        // Kept if nobody waits yet.
        self.0.notify_one();
    }
}

impl Explorer {
    /// Listens on 127.0.0.1 at `port`; 0 takes a free one.
    ///
    /// # Errors
    /// If the port is taken or may not be used, or the system gives no random numbers.
    pub fn bind(start: Start, port: u16) -> io::Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        listener.set_nonblocking(true)?;
        let address = listener.local_addr()?;
        let owner = Owner::new(address.port())?;
        let patience = Patience::default();
        Ok(Self { listener, address, start, owner, patience, stop: Arc::default() })
    }

    /// The same that waits for as long as is told.
    #[cfg(test)]
    pub(crate) fn with_patience(self, patience: Patience) -> Self {
        Self { patience, ..self }
    }

    /// The page's address, with the key of whoever started it: only who knows it is answered.
    pub fn address(&self) -> String {
        format!("http://{}{}", self.address, self.owner.path())
    }

    /// What ends it.
    pub fn stopper(&self) -> Stopper {
        Stopper(Arc::clone(&self.stop))
    }

    /// Answers until it is stopped.
    ///
    /// # Errors
    /// If the system refuses threads or the socket.
    pub fn run(self) -> io::Result<()> {
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
        let ended = runtime.block_on(self.answer());
        // What still computes has been told to stop; nobody waits for its result.
        runtime.shutdown_background();
        ended
    }

    async fn answer(self) -> io::Result<()> {
        let app = App::new(self.start);
        let listener = tokio::net::TcpListener::from_std(self.listener)?;
        let gate = Gate { port: self.address.port(), owner: self.owner };
        let routes = routes(app.clone(), gate);
        let stop = self.stop;
        accept::serve(listener, routes, self.patience, async move {
            stop.notified().await;
            // Followers of runs learn that they are over, so their streams end.
            app.runs.cancel_all();
        })
        .await;
        Ok(())
    }
}
