//! `estimate`: how long scenes take, and what their cloth costs.

use std::path::PathBuf;

use clap::Args;
use rowscape::job::{self, Rates};
use rowscape::measure::Price;
use rowscape::render::{self, Estimated, Prices};

use super::read::{file_name, read_plan};
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape estimate lighthouse
  rowscape estimate lighthouse lighthouse-quartered --seam 30
  rowscape estimate lighthouse --price-square '0,60 €' --price-length '14,50 €' --price-batting '38 €'";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct EstimateArguments {
    /// The scenes, side by side: their plan.json, or the folders that hold them
    #[arg(required = true, num_args = 1..=4)]
    pub(super) plans: Vec<PathBuf>,
    /// Seconds that a cut takes
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().cut, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    cut: u32,
    /// Seconds that a seam takes, from picking up to pressing, beside its stitching
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().seam, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    seam: u32,
    /// Seconds that a yard of piecing takes to stitch
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().yard, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    yard: u32,
    /// Seconds that trimming a unit takes
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().trim, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    trim: u32,
    /// Seconds that a yard of quilting takes
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().quilting, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    quilting: u32,
    /// Seconds that a yard sewn by hand takes
    #[arg(long, value_name = "SECONDS", default_value_t = Rates::default().hand, allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(0..=36_000))]
    hand: u32,
    /// Price of a precut square, in your currency's form
    #[arg(long, value_name = "PRICE")]
    price_square: Option<Price>,
    /// Price of a yard of cloth, or of a metre where the scene is metric
    #[arg(long, value_name = "PRICE")]
    price_length: Option<Price>,
    /// Price of the batting
    #[arg(long, value_name = "PRICE")]
    price_batting: Option<Price>,
}

pub fn run(arguments: &EstimateArguments) -> Result<String, Failure> {
    let [square, length, batting] =
        in_one_form([&arguments.price_square, &arguments.price_length, &arguments.price_batting])?;
    let plans = arguments.plans.iter().map(|path| Ok((file_name(path), read_plan(path)?.0)));
    let plans = plans.collect::<Result<Vec<_>, Failure>>()?;
    let scene = |(name, plan)| Estimated { parts: job::estimate(plan), name, plan };
    let scenes: Vec<Estimated> = plans.iter().map(|(name, plan)| scene((name.clone(), plan))).collect();
    let EstimateArguments { cut, seam, yard, trim, quilting, hand, .. } = *arguments;
    let time = render::time_account(&scenes, &Rates { cut, seam, yard, trim, quilting, hand }, screen::width());
    if [&square, &length, &batting].into_iter().all(Option::is_none) {
        return Ok(time);
    }
    let mut prices = Prices::default();
    (prices.square, prices.length, prices.batting) = (square, length, batting);
    Ok(time + &render::cost_account(&scenes, &prices, screen::width()))
}

/// All of them as the first is written that has hundredths, or the first.
fn in_one_form<const N: usize>(given: [&Option<Price>; N]) -> Result<[Option<Price>; N], Failure> {
    let all = || given.iter().copied().flatten();
    let Some(form) = all().find(|price| price.has_hundredths()).or(all().next()) else {
        return Ok([const { None }; N]);
    };
    if let Some(other) = all().find(|price| price.like(form).is_none()) {
        let what = format!("`{form}` and `{other}` are not written in one form");
        return Err(Failure::new(what).hint("give all prices in one currency, written alike"));
    }
    Ok(given.map(|price| price.as_ref().and_then(|price| price.like(form))))
}
