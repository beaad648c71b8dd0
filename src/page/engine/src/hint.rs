//! What to do about a refusal, on a page.

use rowscape::job::{BriefError, JobError, Obstacle, RefitError, ReviseError, StockError, Ungranted};

/// What to do next, in the page's words.
pub fn hint(error: &JobError) -> Option<&'static str> {
    Some(match error {
        JobError::Brief(BriefError::Seam(..)) => "sew two scraps together and measure it: 1/4 in and 0.75 cm are usual",
        JobError::Brief(BriefError::Held { .. }) => "take more fabrics, or let one of the held ones go",
        JobError::Brief(BriefError::NoSize) => "write a width, a height or both",
        JobError::Stash(_, error) => error.help(),
        JobError::Stock(StockError::Short(_)) => {
            "take a smaller top, or the largest that your fabrics make; or count more of a fabric, or none of it where \
             there is enough"
        }
        JobError::Stock(StockError::Scene(_)) => "change the size, the squares or the fabrics",
        JobError::Endless { .. } => "say how much there is of it, or write a width",
        JobError::NoTop(_) | JobError::NoPicture | JobError::NoShape => "add fabrics, or take other squares",
        JobError::Revise(error) => return of_change(error),
        JobError::Refit(_, error) => match **error {
            RefitError::Upright(_) => "have it composed afresh, with units in which its prints stand upright",
            RefitError::Filler { .. } => "have it composed afresh, with the fillers that this stash can give",
            RefitError::OneFabric(_) | RefitError::NoFabric => "add fabrics to that stash, or leave it out",
            _ => "have it composed afresh",
        },
        JobError::Tried(..) => "leave this stash out, or add to it",
        JobError::ManyStashes(..) => "try fewer at a time",
        JobError::Picture(_) => "save it as JPEG or PNG, and try again",
        JobError::Proof(_) => "this is a fault of the program, please report it",
        _ => return None,
    })
}

fn of_change(error: &ReviseError) -> Option<&'static str> {
    Some(match error {
        ReviseError::Sewn(_) => "unpick it, and mark it free",
        ReviseError::OneFabric { .. } => "make it a filler instead",
        ReviseError::CannotStay { .. } => "mark it free, or keep the size, seam and squares that it was made with",
        ReviseError::CannotBe { why, .. } => of_wish(why),
        ReviseError::NoRoom(_) => "make it elsewhere, or free some of what is kept around it",
        ReviseError::Short(_) => {
            "free some of what is kept or sewn, bring back a fabric that is left out, take a smaller top, or count more of \
             a fabric"
        }
        _ => return None,
    })
}

fn of_wish(why: &Obstacle) -> &'static str {
    match why {
        Obstacle::NoWhole => "use smaller squares",
        Obstacle::Taken => "free what is kept or sewn there, or make one of the two only",
        Obstacle::Fabrics(Ungranted::NoFiller) => "make a smaller unit a filler, or this one whole",
        Obstacle::Fabrics(Ungranted::OneFabric) => "leave fewer fabrics out, or make it a filler",
        _ => "choose another unit",
    }
}
