//! `sizes`: what cut squares give.

use clap::Args;
use comfy_table::{Cell, CellAlignment, Table, presets};
use rowscape::job;
use rowscape::measure::Ruler;
use rowscape::unit::{Block, Strip, Vocabulary};
use serde_json::{Value, json};

use super::Failure;
use super::given::Given;
use super::request::SizeArguments;

#[derive(Args)]
#[command(
    after_help = "Examples:\n  rowscape sizes --square 10in --seam 1/4in --grid 1/2in\n  rowscape sizes --square 10in/4 --square 10in\n  rowscape sizes --square 18.5cm --seam 0.75cm --grid 0.5cm --json"
)]
pub struct SizesArguments {
    #[command(flatten)]
    sizes: SizeArguments,
    /// For machines: a JSON list, lengths as decimals in the unit asked in
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &SizesArguments) -> Result<String, Failure> {
    let sizes = &arguments.sizes;
    let ruler = sizes.ruler().unwrap_or(Ruler::Inch);
    let found = job::sizes(&sizes.given(), ruler).map_err(|error| Given::default().failure(error))?;
    let (vocabulary, usual) = found;
    let (seam, grid, least) = (usual.seam, usual.grid, usual.least);
    if arguments.json {
        let list: Vec<Value> = vocabulary.blocks.iter().map(|block| object(block, ruler)).collect();
        return Ok(serde_json::to_string_pretty(&list).map_err(Failure::new)? + "\n");
    }
    let unit = if ruler == Ruler::Metric { "centimetres" } else { "inches" };
    let mut text = format!("Seam {}", ruler.show(seam.measured));
    if seam.measured != seam.working {
        text += &format!(", worked with as {}", ruler.show(seam.working));
    }
    text += &format!("; finished sizes on a grid of {}. All sizes are in {}.\n", ruler.show(grid), unit);
    text += &table(&vocabulary, ruler).to_string();
    text +=
        "\nFinished is the largest size on the grid that the square gives; trim each unit to finished and two seams.\n";
    text += "Trimmed units and slices: the finished width, then the strip cut off the trimmed unit. A slice is that strip, used.\n";
    let narrow = vocabulary.blocks.iter().flat_map(|b| b.mains.iter().chain(&b.slices));
    if sizes.least.is_none() && narrow.clone().any(|strip| strip.finished < least) {
        text += &format!("Scenes use none that finishes under {}, unless --least says so.\n", ruler.show(least));
    }
    Ok(text)
}

fn table(vocabulary: &Vocabulary, ruler: Ruler) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::UTF8_HORIZONTAL_ONLY);
    table.set_header(["square", "method", "size", "exact", "trimmed", "finished", "trimmed units", "slices"]);
    for block in &vocabulary.blocks {
        let right = |text: String| Cell::new(text).set_alignment(CellAlignment::Right);
        table.add_row([
            Cell::new(square_words(block, ruler)),
            Cell::new(block.at_a_time.words()),
            Cell::new(block.at_a_time.size()),
            right(format!("{:.3}", ruler.decimal(block.exact_unfinished))),
            right(ruler.number(block.trimmed)),
            right(ruler.number(block.finished)),
            Cell::new(strips_words(&block.mains, ruler)),
            Cell::new(strips_words(&block.slices, ruler)),
        ]);
    }
    table
}

fn square_words(block: &Block, ruler: Ruler) -> String {
    let side = ruler.number(block.square.cut);
    if block.square.quartered { format!("{side}, a quarter of {}", ruler.number(block.square.bought())) } else { side }
}

/// `8 (1 off)`: the finished width and the strip that is cut.
fn strips_words(strips: &[Strip], ruler: Ruler) -> String {
    let words: Vec<String> =
        strips.iter().map(|s| format!("{} ({} off)", ruler.number(s.finished), ruler.number(s.cut))).collect();
    if words.is_empty() { "none".into() } else { words.join("\n") }
}

fn object(block: &Block, ruler: Ruler) -> Value {
    let finished = |strips: &[Strip]| -> Vec<f64> { strips.iter().map(|s| ruler.decimal(s.finished)).collect() };
    json!({
        "square": ruler.decimal(block.square.cut),
        "bought": ruler.decimal(block.square.bought()),
        "at_a_time": block.at_a_time.yields(),
        "exact_unfinished": ruler.decimal(block.exact_unfinished),
        "trimmed": ruler.decimal(block.trimmed),
        "finished": ruler.decimal(block.finished),
        "mains": finished(&block.mains),
        "slices": finished(&block.slices),
        "unit": ruler.unit(),
    })
}
