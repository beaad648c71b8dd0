//! Prices as the maker writes them, added up exactly and shown in her own form.

use std::fmt;
use std::str::FromStr;

/// A price: hundredths, and what stands round them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    hundredths: i128,
    before: String,
    after: String,
    /// What parts its hundredths off; none where it was written whole.
    mark: Option<char>,
}

/// Why a text is no price.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a price: write it as `12.50`, `$12.50` or `12,50 €`")]
pub struct PriceError(String);

/// Most letters of a price.
const MOST: usize = 24;

impl FromStr for Price {
    type Err = PriceError;

    fn from_str(text: &str) -> Result<Self, PriceError> {
        let text = text.trim();
        let wrong = || PriceError(text.chars().take(MOST).collect());
        let digit = |c: char| c.is_ascii_digit();
        let (first, last) = (text.find(digit).ok_or_else(wrong)?, text.rfind(digit).ok_or_else(wrong)?);
        let (before, number, after) = (&text[..first], &text[first..=last], &text[last + 1..]);
        let odd = |c: char| c.is_control() || matches!(c, '-' | '.' | ',');
        if text.chars().count() > MOST || before.chars().chain(after.chars()).any(odd) {
            return Err(wrong());
        }
        let mark = number.chars().find(|c| !digit(*c));
        let (whole, part) = mark.and_then(|mark| number.split_once(mark)).unwrap_or((number, ""));
        let known = mark.is_none_or(|mark| matches!(mark, '.' | ',') && (1..=2).contains(&part.len()));
        if !known || !whole.chars().chain(part.chars()).all(digit) || whole.len() > 9 {
            return Err(wrong());
        }
        let count = |text: &str| text.parse::<i128>().map_err(|_| wrong());
        let hundredths = count(whole)? * 100 + count(&format!("{part:0<2}"))?;
        Ok(Self { hundredths, before: before.into(), after: after.into(), mark })
    }
}

impl Price {
    /// Whether it was written with hundredths.
    pub fn has_hundredths(&self) -> bool {
        self.mark.is_some()
    }

    /// In the form of another; none where both are not of one currency, written alike.
    pub fn like(&self, other: &Self) -> Option<Self> {
        let one = |mark: char| other.mark.is_none_or(|other| other == mark);
        let alike = (&self.before, &self.after) == (&other.before, &other.after) && self.mark.is_none_or(one);
        alike.then(|| Self { mark: self.mark.or(other.mark), ..self.clone() })
    }

    /// All in the form of the first that has hundredths, or of the first; two that are not of one form are given back.
    pub fn in_one_form(prices: &mut [Self]) -> Result<(), Box<[Self; 2]>> {
        let form = prices.iter().find(|price| price.has_hundredths()).or(prices.first()).cloned();
        for price in prices {
            let form = form.as_ref().expect("there is one at least");
            *price = price.like(form).ok_or_else(|| Box::new([form.clone(), price.clone()]))?;
        }
        Ok(())
    }

    /// So many times `top` over `bottom`, rounded up to a hundredth.
    pub fn times(&self, top: i64, bottom: i64) -> Self {
        let bottom = i128::from(bottom.max(1));
        let hundredths = (self.hundredths * i128::from(top) + bottom - 1).div_euclid(bottom);
        Self { hundredths, ..self.clone() }
    }

    /// Both together, in the form of the first.
    pub fn and(&self, other: &Self) -> Self {
        Self { hundredths: self.hundredths + other.hundredths, ..self.clone() }
    }
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { hundredths, before, after, mark } = self;
        write!(f, "{before}{}{}{:02}{after}", hundredths / 100, mark.unwrap_or('.'), hundredths % 100)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_keep_their_form() {
        for (text, shown) in [("$12.50", "$12.50"), ("12,5 €", "12,50 €"), ("kr 9", "kr 9.00"), (" 0.07", "0.07")] {
            assert_eq!(text.parse::<Price>().unwrap().to_string(), shown);
        }
        let yard: Price = "12,50 €".parse().unwrap();
        assert_eq!(yard.times(3, 8).to_string(), "4,69 €");
        assert_eq!(yard.times(3, 8).and(&yard).to_string(), "17,19 €");
        let like = |text: &str| text.parse::<Price>().unwrap().like(&yard).map(|price| price.to_string());
        assert_eq!([like("3,00 €"), like("38 €")], ["3,00 €", "38,00 €"].map(|price| Some(price.to_owned())));
        assert_eq!([like("$3.00"), like("3.00 €")], [None, None]);
    }

    #[test]
    fn what_is_no_price() {
        for text in ["", "free", "-3", "1.234.50", "12.505", "1e9", "12.", "9999999999", "1 000", "3\u{7}"] {
            assert!(text.parse::<Price>().is_err(), "{text}");
        }
    }
}
