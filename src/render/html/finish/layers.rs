//! Backing, batting, basting and quilting.

use maud::{Markup, html};

use super::{Quilt, figures, quilting, sides};
use crate::finish::{BackingWork, Seams};
use crate::render::text::count;

pub(super) fn chapter(quilt: &Quilt) -> Markup {
    let finishing = &quilt.finishing;
    html! {
        @if let Some(work) = &finishing.backing { (backing(quilt, work)) }
        @if finishing.backing.is_some() || finishing.batting.is_some() { (layers(quilt)) (quilting::chapter(quilt)) }
    }
}

fn backing(quilt: &Quilt, work: &BackingWork) -> Markup {
    let sheet = quilt.sheet;
    let across = if work.seams == Seams::Upright { "upright" } else { "level" };
    html! {
        h3 { "Backing" } "\n"
        (figures(&html! {
            "Cut " b { (count(work.lengths.unsigned_abs(), "length", "lengths")) " of " (sheet.len(work.length)) }
            " off cloth " (sheet.len(work.cloth)) " wide, and cut the selvedges off: they do not stretch as the cloth does. "
            @if let Some(middle) = &work.middle {
                @if let Some(halves) = &work.halves { "Split it lengthwise, into halves of " (sheet.len(halves.width)) ". " }
                "Between the two goes a strip of what is left: sew rectangles " b { (sheet.len(middle.width)) }
                " wide end to end, to at least " (sheet.len(middle.length))
                "; what you need says of what, and what lacks. "
            } @else if let Some(halves) = &work.halves {
                "Split one of them lengthwise, into halves of " (sheet.len(halves.width)) ", and sew one to each side of the other. "
            } @else if work.lengths > 1 {
                "Sew them side by side. "
            }
            @if work.lengths > 1 || work.middle.is_some() {
                "Take seams of " (sheet.len(work.seam)) ", press them open, and lay the back with its seams " (across)
                ": it reaches " (sheet.len(work.reach())) ". "
            }
            "Trim it to " b { (sides(quilt, work.size)) } "."
        }))
    }
}

fn layers(quilt: &Quilt) -> Markup {
    let finishing = &quilt.finishing;
    html! {
        h3 { "Layers" } "\n"
        @if let Some(work) = &finishing.batting {
            (figures(&html! {
                "Let the batting lie open for a day, and cut it to " b { (sides(quilt, work.size)) }
                ". Its maker says how far apart the quilting may be."
            }))
        }
        (figures(&html! {
            "Lay the backing face down on a table or a floor and tape it down, smooth but not stretched. Lay the batting on it, and on \
             that the pressed top, face up, in the middle: what lies below reaches " (quilt.sheet.len(finishing.overhang))
            " past its raw edge on every side. Smooth each layer from the middle outward."
        }))
        h3 { "Basting" } "\n"
        p {
            "Baste from the middle outward, through all layers: safety pins a hand's width apart, where no line of quilting will \
             run, or long stitches in rows and round the edge. Spray only in moving air, as its maker says. Take pins out before \
             the needle reaches them."
        }
        "\n"
    }
}
