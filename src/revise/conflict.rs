//! Which of the standing units leaves no room for the rest.

use super::{ReviseError, Unmoved};
use crate::compose::{Before, ComposeError, Lock, Order, SceneError, Standing};
use crate::plan::{Address, Plan, places};
use crate::stock::{StockError, compose};

/// The first standing place with which, and those before it, no rows fill the top.
pub fn conflict(order: &Order, marked: &Plan, wished: &[Address]) -> ReviseError {
    let standing = order.standing;
    let all = standing.locks.len() + standing.wishes.len();
    let fails = |count: usize| {
        let locks = standing.locks.iter().take(count).cloned().collect();
        let wishes = standing.wishes.iter().take(count.saturating_sub(standing.locks.len())).copied().collect();
        let part = Standing { locks, wishes, edges: standing.edges.clone(), before: Before::NOTHING };
        // One round shows whether rows fill the top at all.
        let error = compose(&Order { standing: &part, ..*order }, 1).err();
        matches!(error, Some(StockError::Scene(SceneError::Compose(ComposeError::NoFit))))
    };
    let (mut good, mut bad) = (0, all);
    if fails(0) {
        return SceneError::Compose(ComposeError::NoFit).into();
    }
    while bad > good + 1 {
        let middle = good + (bad - good) / 2;
        if fails(middle) { bad = middle } else { good = middle }
    }
    ReviseError::NoRoom(name(order, marked, wished, bad.saturating_sub(1)))
}

fn name(order: &Order, marked: &Plan, wished: &[Address], index: usize) -> Unmoved {
    let locks = &order.standing.locks;
    let Some(&Lock { x, y, .. }) = locks.get(index) else {
        return Unmoved::Wanted(wished[index - locks.len()]);
    };
    let grids = (order.request.grid, marked.request.grid);
    let at = |new: usize, old: u32| grids.0 * new as i64 == grids.1 * old;
    let found = places(&marked.bands).into_iter().find(|placed| at(x, placed.x) && at(y, placed.y));
    Unmoved::Stands(found.map(|placed| placed.address))
}
