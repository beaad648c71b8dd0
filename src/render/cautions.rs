//! Blades, irons and needles hurt: the usual cautions, the same in every output.

pub(super) const BLADE: [&str; 2] = [
    "Close the rotary cutter whenever it is not in your hand, and keep it away from children. Young makers cut with an \
     adult beside them.",
    "Cut on a mat, away from your body, with your fingers off the ruler's edge. Wrap old blades before you throw them \
     away.",
];
pub(super) const IRON: &str = "Stand the iron on its heel on a steady board, its cord out of reach of feet and children, and unplug it after use.";
pub(super) const NEEDLE: &str = "Take each pin out before the needle reaches it.";
pub(super) const MANUALS: &str = "Follow the makers' manuals of your machine, your cutter and your iron.";
