//! How wide a table may be.

/// Narrowest and widest tables, and the width where there is no screen.
const NARROW: u16 = 72;
const WIDE: u16 = 120;
const USUAL: u16 = 80;

/// The screen's width, or what COLUMNS says, within reason.
pub fn width() -> u16 {
    let said = || std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let screen = terminal_size::terminal_size().map(|(width, _)| width.0);
    screen.or_else(said).unwrap_or(USUAL).clamp(NARROW, WIDE)
}
