//! How long a scene takes to sew.

use crate::make::{Effort, efforts, make};
use crate::plan::Plan;

/// Each part of the work by name, with what it is made of; what is asked for beyond the top included.
pub fn estimate(plan: &Plan) -> [(&'static str, Effort); 6] {
    let asked = !plan.request.finish.is_none();
    let finishing =
        asked.then(|| plan.request.finishing().expect("the request was checked when the plan was made or read"));
    efforts(plan, &make(plan), finishing.as_ref())
}
