//! Squaring up, binding, sleeve, label and the first wash.

use maud::{Markup, html};

use super::{Quilt, figures};
use crate::finish::{BindingCut, BindingWork, FacingWork, Fold, Label, SleeveWork};
use crate::make::{PartOf, made};
use crate::measure::Length;
use crate::render::markup::shown;
use crate::render::text::{count, title};

pub(super) fn chapter(quilt: &Quilt) -> Markup {
    let finishing = &quilt.finishing;
    html! {
        @if let Some(work) = &finishing.binding { (squaring(quilt, work.past)) (binding(quilt, work)) }
        @if let Some(work) = &finishing.facing { (squaring(quilt, Length::ZERO)) (facing(quilt, work)) }
        @if let Some(work) = &finishing.sleeve { (sleeve(quilt, work)) }
        @if let Some(label) = &quilt.sheet.plan.request.finish.label { (label_of(quilt, label)) }
        (wash())
    }
}

fn squaring(quilt: &Quilt, past: Length) -> Markup {
    html! {
        h3 { "Squaring up" } "\n"
        (figures(&html! {
            "Quilting draws a quilt in a little, and not everywhere alike. Lay it flat, and with a long ruler and a square corner trim \
             batting and backing "
            @if past > Length::ZERO {
                b { (quilt.sheet.len(past)) " outside the raw edge of the top" } ", so that they fill the binding"
            } @else {
                b { "level with the raw edge of the top" }
            }
            ". Cut away from yourself, fingers off the ruler's edge. Opposite sides should be equally long, and the diagonals too."
        }))
    }
}

fn binding(quilt: &Quilt, work: &BindingWork) -> Markup {
    let len = |length: Length| quilt.sheet.len(length);
    let seam = quilt.sheet.plan.request.seam.working;
    let lots = quilt.strips_of(PartOf::Binding);
    html! {
        h3 { "Binding" } "\n"
        (figures(&html! {
            "The edge is " (len(work.edge)) " round; the strip should be " b { "at least " (len(work.needed)) }
            " long, for the corners and where its ends meet. "
            @match work.cut {
                BindingCut::Straight(run) => {
                    "Cut " (quilt.strips(&run, &lots)) " and join them on the diagonal: lay two ends face to face at a right angle, sew from corner to \
                     corner, trim to a seam, press open. Joined, they make " (len(made(&run, &lots))) "."
                }
                BindingCut::Bias { squares, side, .. } => {
                    "Cut " b { (count(squares.unsigned_abs(), "square", "squares")) " of " (len(side)) }
                    ". Cut a square along one diagonal and sew the two halves together along two straight sides, so that a slanted \
                     shape with two bias edges comes out. Draw lines on it, beside a bias edge, every " b { (len(work.strip)) }
                    ". Sew the slanted ends together face to face, a line further on, to a tube, and cut along the line, round and \
                     round. Sewn and joined, that makes " (quilt.about(work.made())) "."
                }
            }
        }))
        ol {
            "\n"
            @match work.fold {
                Fold::Double => { li { "Fold the strip in half along its length, wrong sides together, and press it." } }
                Fold::Single => { li { "Press one long edge of the strip under by a seam, wrong side in." } }
            }
            "\n"
            li class="figures" {
                "Lay its raw edges on the raw edge of the top, begin away from a corner with the length of a hand left loose, and sew with a seam of "
                (len(seam)) ", through all layers."
            }
            "\n"
            li {
                "Stop one seam before a corner, and sew out over it on the diagonal. Fold the strip up, then down again, level with the edge \
                 behind it, and go on from the corner."
            }
            "\n" li { "Join the loose ends on the diagonal, and sew the last stretch." }
            "\n"
            li class="figures" {
                "Fold the strip round the edge to the back, so that " (len(work.finished))
                " of it show on the front, and sew it down there by hand, just past the seam. Fold each corner to a mitre."
            }
            "\n"
        }
        "\n"
    }
}

fn facing(quilt: &Quilt, work: &FacingWork) -> Markup {
    let len = |length: Length| quilt.sheet.len(length);
    let seam = quilt.sheet.plan.request.seam.working;
    let run = &work.run;
    html! {
        h3 { "Facing" } "\n"
        (figures(&html! {
            "A facing is turned wholly to the back: none of it shows on the front, and the quilt stays as large as its top. Cut "
            (quilt.strips(run, &quilt.strips_of(PartOf::Facing)))
            " and join them on the diagonal, pressed open, to at least " b { (len(run.needed)) }
            ". Cut 2 of " (len(work.sides)) " for the sides and 2 of " (len(work.ends)) " for the top and the bottom."
        }))
        ol {
            "\n"
            @match work.fold {
                Fold::Double => { li { "Fold each strip in half along its length, wrong sides together, and press it." } }
                Fold::Single => { li { "Press one long edge of each strip under by a seam, wrong side in." } }
            }
            "\n"
            li class="figures" {
                "Lay a strip on the front of each side, raw edges level, and sew it on with a seam of " (len(seam))
                ", through all layers. Where quilting has drawn the quilt in, trim the strip to it."
            }
            "\n"
            li {
                "Press the strip away from the quilt, over the seam, and stitch it down close beside the seam, through the strip and \
                 the seam only: then its edge rolls to the back. Turn it to the back and press."
            }
            "\n"
            li class="figures" {
                "Lay the other strips along the top and the bottom and turn " (len(work.turned))
                " of each end in, level with the sides. Sew them on, clip the corners, stitch them down beside the seam as the first, \
                 and turn them to the back."
            }
            "\n"
            li class="figures" {
                "It lies " (len(work.shows)) " deep on the back. Sew its inner edge and its corners down by hand, through the backing only."
            }
            "\n"
        }
        "\n"
    }
}

fn sleeve(quilt: &Quilt, work: &SleeveWork) -> Markup {
    let len = |length: Length| quilt.sheet.len(length);
    let run = &work.run;
    html! {
        h3 { "Sleeve" } "\n"
        (figures(&html! {
            "Cut " (quilt.strips(run, &quilt.strips_of(PartOf::Sleeve))) ", join them and cut them to "
            b { (len(run.needed)) } ". Hem each end by " (len(work.hem)) " and sew the long edges together to a tube, "
            (len(work.flat)) " high when it lies flat. Sew it to the back by hand, just under the upper edge, its lower side pushed up a \
             little, so that the rod does not show as a ridge in front."
        }))
    }
}

fn label_of(quilt: &Quilt, label: &Label) -> Markup {
    let Label { maker, date, place, care } = label;
    let title = title(quilt.sheet.plan);
    let lines = [title.as_str(), maker, date, place, care];
    html! {
        h3 { "Label" } "\n"
        p { "Write it with a pen for cloth, or embroider it, and sew it to a lower corner of the back before the layers are basted, or by hand afterwards." }
        "\n"
        div class="quilt-label" { "\n" @for text in lines.into_iter().filter(|text| !text.is_empty()) { p { (shown(text)) } "\n" } }
        "\n"
    }
}

fn wash() -> Markup {
    html! {
        h3 { "First wash" } "\n"
        p {
            "What the makers of the fabrics and the batting say goes first. Cotton shrinks by a few parts in a hundred, and batting by its \
             own measure, which puckers the quilting: if you do not want that, wash the cloth before you cut it. Dark and red dyes \
             may bleed: rub a damp white cloth on each, and where it comes away coloured, wash that fabric by itself before it is \
             sewn to a light one. Wash the quilt cold, with plenty of water and something that catches dye, and take it out at \
             once."
        }
        "\n"
    }
}
