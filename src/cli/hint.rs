//! What to do about a refusal.

use rowscape::job::{BriefError, JobError, Obstacle, RefitError, ReviseError, StockError, Ungranted};

/// What to do next, in the command line's words and options.
pub fn hint(error: &JobError) -> Option<String> {
    let hint = match error {
        JobError::Brief(error) => match error {
            BriefError::Seam(..) => "sew two scraps together and measure it: `1/4in` and `0.75cm` are usual",
            BriefError::Grid(..) => "take `1/2in` or `1cm`",
            BriefError::NoSize => "give --width, --height or both",
            BriefError::Held { .. } => "ask for more with --colours, or hold fewer",
            BriefError::NoStash => "give the stash with --stash FILE, or the size with --width or --height",
            BriefError::NoDirectional => {
                "write `directional = true` below each such fabric of the stash, and give it with --stash FILE"
            }
            _ => return None,
        },
        JobError::Strip(..) => "take `1in,2in`",
        JobError::Stock(StockError::Short(_)) => {
            "compose a smaller top (`--largest` finds the largest that the stash makes), add to the stash, or take counts out of it to see what it would need"
        }
        JobError::Stock(StockError::Scene(_)) => "change the size, the squares or the stash",
        JobError::Endless { .. } => {
            "write its squares or its yardage into the stash (`squares = []` for none), or give --width"
        }
        JobError::NoTop(_) | JobError::NoPicture | JobError::NoShape => {
            "add to the stash, or take other squares or a finer grid"
        }
        JobError::Revise(error) => return revise_hint(error),
        JobError::Refit(_, error) => match **error {
            RefitError::Upright(_) => {
                "give --afresh, which composes with units in which they stand, or take `upright_in_triangles` out of the stash"
            }
            RefitError::Filler { .. } => "give --afresh, which composes with the fillers that this stash can give",
            RefitError::OneFabric(_) | RefitError::NoFabric => "add fabrics to the stash, or leave it out",
            _ => "compose the scene again",
        },
        JobError::Tried(..) => "leave this stash out, or add to it",
        JobError::ManyStashes(_, most) => return Some(format!("try up to {most} at a time")),
        JobError::Proof(_) => "this is a fault of the program, please report it",
        _ => return None,
    };
    Some(hint.into())
}

fn revise_hint(error: &ReviseError) -> Option<String> {
    let hint = match error {
        ReviseError::Sewn(at) => return Some(format!("unpick it and give --release {at}")),
        ReviseError::HalfTurnOnly(at) => return Some(format!("give --turn {at}=180")),
        ReviseError::OneFabric { at, letter } => {
            return Some(format!("ask for a filler there: --filler {at}={letter}"));
        }
        ReviseError::CannotStay { .. } => {
            "release it, or ask for the size, seam, grid and squares that it was made with"
        }
        ReviseError::CannotBe { why, .. } => wish_hint(why),
        ReviseError::NoRoom(_) => "take that mark or wish back, move it, or allow narrower pieces with --least",
        ReviseError::Short(_) => {
            "release some of what is kept or sewn, bring back a fabric that is left out, ask for a smaller top, or buy what is missing and say so with --bought"
        }
        _ => return None,
    };
    Some(hint.into())
}

/// What to do where a wish is not granted.
fn wish_hint(why: &Obstacle) -> &'static str {
    match why {
        Obstacle::OffGrid { .. } => "ask for the old grid, or for a piece elsewhere",
        Obstacle::NoWhole => "give smaller squares with --square",
        Obstacle::Outside => "ask for it further in, or keep the size of the top",
        Obstacle::Taken => "release what is kept or sewn there, or ask for one of the two only",
        Obstacle::NoFillerOf { .. } => "leave its letter out, so that the best fabric is taken that gives one",
        Obstacle::Fabrics(Ungranted::NoFiller) => {
            "ask for a filler in the place of a smaller unit, or for a whole unit there"
        }
        Obstacle::Fabrics(Ungranted::OneFabric) => "leave fewer fabrics out, or ask for a filler there",
        _ => "ask for a piece elsewhere",
    }
}
