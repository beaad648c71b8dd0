//! How triangle units are made, the same in every output.

use crate::unit::AtATime;

/// What is done to a pair, in three parts of a sentence.
pub(super) struct Method {
    /// Before it is sewn.
    pub lay: &'static str,
    /// Where it is sewn, so far from there.
    pub sew: &'static str,
    /// How it is cut apart.
    pub cut: &'static str,
}

impl Method {
    /// Of a method.
    pub fn of(method: AtATime) -> Self {
        match method {
            AtATime::Two => Self {
                lay: "Lay the two squares right sides together. Draw one diagonal on the back of the lighter one",
                sew: "from the line on each side of it",
                cut: "cut on the line",
            },
            AtATime::Four => Self {
                lay: "Starch the squares. Lay them right sides together",
                sew: "inside the edge all the way round",
                cut: "cut on both diagonals",
            },
            AtATime::Eight => Self {
                lay: "Lay the squares right sides together. Draw both diagonals on the back of the lighter one",
                sew: "from each line on both sides of it",
                cut: "cut in half both ways through the middle, then on the drawn lines",
            },
        }
    }
}

/// What is to be known of units made four at a time, and what follows.
pub(super) const BIAS: (&str, &str) = (
    "All outer edges of these units are on the bias:",
    "press without steam, straight up and down, and handle them little until they are sewn.",
);

/// How a unit is trimmed.
pub(super) const TRIMMING: &str = "Lay the ruler's 45-degree line on the seam, so that the unit reaches a little past the trimmed size on every \
     side. Cut two sides. Turn the unit round, set the ruler's marks for the size on the cut edges, and cut the \
     other two. Snip off the points that stick out.";
