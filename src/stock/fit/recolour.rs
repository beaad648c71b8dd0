//! A plan's own pieces within the stash: other families where there is too little of the best.

use super::{Become, Found, Have, Search, Squares, TRIES, by_families, reprint};
use crate::compose::{Order, Ready, SceneError};
use crate::cutting::lacking;
use crate::plan::Plan;
use crate::watch::Watch;

/// The plan's pieces, each in prints of which there is enough: of its own families where these suffice, else of others
/// that cost least, and of plain pieces where these do not suffice. Where that cannot be, of its own as far as there is.
pub fn recolour(plan: &Plan, watch: &Watch) -> Result<Plan, SceneError> {
    let own = reprint(plan, watch)?;
    watch.go_on()?;
    if lacking(&own).is_empty() {
        return Ok(own);
    }
    let order = Order::of(plan, watch);
    let ready = Ready::new(&order)?;
    let mut search = Search::new(&ready, &order, Have::new(&ready, order.fabrics), TRIES);
    let problem = ready.problem(&order)?;
    for may in [Become::Recoloured, Become::Plain(Squares::Whole)] {
        if search.best.is_none() {
            (search.may, search.tries) = (may, TRIES);
            search.take(&problem, Found { bands: by_families(plan.bands.clone(), &ready), cost: 0 });
        }
    }
    watch.go_on()?;
    Ok(search.best.map_or(own, |(_, bands)| ready.plan(&order, bands)))
}
