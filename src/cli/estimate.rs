//! `estimate`: how long scenes take, and what their cloth costs.

use std::path::PathBuf;
use std::str::FromStr;

use clap::Args;
use rowscape::job::{self, Rates};
use rowscape::measure::{Price, PriceError};
use rowscape::render::{self, Estimated, Prices};

use super::read::{file_name, read_plan};
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape estimate lighthouse
  rowscape estimate lighthouse lighthouse-quartered --seam 30
  rowscape estimate lighthouse --price-square '0,60 €' --price-length '14,50 €' --price-batting '38 €'
  rowscape estimate lighthouse --price-length 14.50 --price-length 'B=18.00'";

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
    /// Price of a precut square, in your currency's form; once more as LETTER=PRICE for a fabric that costs other than the rest
    #[arg(long, value_name = "PRICE")]
    price_square: Vec<Priced>,
    /// Price of a yard of cloth, or of a metre where the scene is metric; once more as LETTER=PRICE for a fabric that costs other than the rest
    #[arg(long, value_name = "PRICE")]
    price_length: Vec<Priced>,
    /// Price of the batting
    #[arg(long, value_name = "PRICE")]
    price_batting: Option<Price>,
}

/// A price, of a fabric by its letter or of all.
#[derive(Clone, Debug)]
pub struct Priced {
    letter: Option<String>,
    price: Price,
}

impl FromStr for Priced {
    type Err = PriceError;

    fn from_str(text: &str) -> Result<Self, PriceError> {
        let (letter, price) = text.split_once('=').map_or((None, text), |(letter, price)| (Some(letter.trim()), price));
        Ok(Self { letter: letter.map(str::to_owned), price: price.parse()? })
    }
}

/// The prices, all written in one form.
fn prices(arguments: &EstimateArguments) -> Result<Prices, Failure> {
    let squares = arguments.price_square.iter().map(|priced| (priced.letter.as_deref(), 0, &priced.price));
    let lengths = arguments.price_length.iter().map(|priced| (priced.letter.as_deref(), 1, &priced.price));
    let batting = arguments.price_batting.iter().map(|price| (None, 2, price));
    let given: Vec<(Option<&str>, usize, &Price)> = squares.chain(lengths).chain(batting).collect();
    let mut alike: Vec<Price> = given.iter().map(|(.., price)| (*price).clone()).collect();
    Price::in_one_form(&mut alike).map_err(|two| {
        let [form, other] = *two;
        Failure::new(format!("`{form}` and `{other}` are not written in one form"))
            .hint("give all prices in one currency, written alike")
    })?;
    let mut prices = Prices::default();
    for ((letter, at, _), price) in given.into_iter().zip(alike) {
        prices.set(letter, at, price);
    }
    Ok(prices)
}

pub fn run(arguments: &EstimateArguments) -> Result<String, Failure> {
    let prices = prices(arguments)?;
    let plans = arguments.plans.iter().map(|path| Ok((file_name(path), read_plan(path)?.0)));
    let plans = plans.collect::<Result<Vec<_>, Failure>>()?;
    let scene = |(name, plan)| Estimated { parts: job::estimate(plan), name, plan };
    let scenes: Vec<Estimated> = plans.iter().map(|(name, plan)| scene((name.clone(), plan))).collect();
    let EstimateArguments { cut, seam, yard, trim, quilting, hand, .. } = *arguments;
    let time = render::time_account(&scenes, &Rates { cut, seam, yard, trim, quilting, hand }, screen::width());
    if prices == Prices::default() {
        return Ok(time);
    }
    let letters: Vec<&str> = plans.iter().flat_map(|(_, plan)| &plan.fabrics).map(|fabric| &*fabric.letter).collect();
    if let Some((letter, _)) = prices.fabrics.iter().find(|(letter, _)| !letters.contains(&letter.as_str())) {
        return Err(Failure::new(format!("no scene has a fabric `{letter}`"))
            .hint("name a fabric by its letter in the list, as B=0.80"));
    }
    Ok(time + &render::cost_account(&scenes, &prices, screen::width()))
}
