//! How a request can fail, and what the page is told then.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use evenfall_core::season::SeasonError;
use evenfall_figures::DrawError;
use evenfall_scenario::Problems;
use serde::Serialize;
use utoipa::ToSchema;

/// Why a request was refused.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(crate) struct Refusal {
    /// What is wrong, in plain words.
    pub(crate) problem: String,
    /// What to do.
    pub(crate) hint: Option<String>,
    /// Problems of the scenario or of the log, where it has some.
    pub(crate) problems: Vec<Problem>,
}

/// One problem of a scenario or of a log.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[expect(clippy::struct_field_names, reason = "the page knows the field by this name")]
pub(crate) struct Problem {
    /// Where, as a JSON pointer; empty for the whole of it.
    pub(crate) pointer: String,
    /// Line of a log, from 1; `null` for scenarios, which are sent as values and have no lines.
    pub(crate) line: Option<usize>,
    /// What is wrong.
    pub(crate) problem: String,
    /// What is allowed there.
    pub(crate) allowed: Option<String>,
    /// What to do.
    pub(crate) hint: Option<String>,
}

/// The problems of a scenario, one by one.
pub(crate) fn problems_of(problems: &Problems) -> Vec<Problem> {
    let one = |issue: &evenfall_scenario::Issue| Problem {
        pointer: issue.pointer.clone(),
        line: None,
        problem: issue.problem.clone(),
        allowed: issue.allowed.clone(),
        hint: issue.hint.clone(),
    };
    problems.issues().iter().map(one).collect()
}

/// A refusal with its status.
#[derive(Clone, Debug)]
pub(crate) struct Fail {
    pub(crate) status: StatusCode,
    pub(crate) refusal: Refusal,
}

impl Fail {
    pub(crate) fn new(status: StatusCode, problem: impl Into<String>) -> Self {
        let refusal = Refusal { problem: problem.into(), hint: None, problems: Vec::new() };
        Self { status, refusal }
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.refusal.hint = Some(hint.into());
        self
    }

    /// A scenario that is not sound.
    pub(crate) fn scenario(problems: &Problems) -> Self {
        let mut fail = Self::new(StatusCode::UNPROCESSABLE_ENTITY, "The scenario has problems.");
        fail.refusal.problems = problems_of(problems);
        fail
    }

    /// A log that is not sound.
    pub(crate) fn log(problems: &Problems) -> Self {
        let mut fail = Self::new(StatusCode::UNPROCESSABLE_ENTITY, "The log has problems.");
        fail.refusal.problems = problems_of(problems);
        for (problem, issue) in fail.refusal.problems.iter_mut().zip(problems.issues()) {
            problem.line = Some(problems.line(issue));
        }
        fail
    }

    /// A sound request that asks for something that cannot be had.
    pub(crate) fn impossible(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, problem)
    }

    pub(crate) fn not_found(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, problem)
    }

    /// Something panicked: never the request's fault.
    pub(crate) fn fault() -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "The program has a fault. Please report it.")
    }

    /// The server is being ended.
    pub(crate) fn ending() -> Self {
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "The program is shutting down.")
    }
}

impl From<SeasonError> for Fail {
    fn from(error: SeasonError) -> Self {
        match error {
            SeasonError::WaterLost { .. } => {
                Self::new(StatusCode::INTERNAL_SERVER_ERROR, error.to_string())
            }
            _ => Self::impossible(error.to_string()),
        }
    }
}

impl From<DrawError> for Fail {
    fn from(error: DrawError) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, format!("Drawing failed: {error}"))
    }
}

impl IntoResponse for Fail {
    fn into_response(self) -> Response {
        (self.status, Json(self.refusal)).into_response()
    }
}
