//! `band.column.row.unit`, counted from the top and the left, from 1.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Where a unit stands in the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
pub struct Address {
    /// Band from the top.
    pub band: usize,
    /// Column from the left.
    pub column: usize,
    /// Row from the top of the column.
    pub row: usize,
    /// Unit from the left of the row.
    pub unit: usize,
}

/// A text is no address.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not an address: write band.column.row.unit, as `1.1.3.7`")]
pub struct AddressError(String);

impl Address {
    /// The address of the row: `band.column.row`.
    pub fn row_words(self) -> String {
        format!("{}.{}.{}", self.band, self.column, self.row)
    }
}

impl fmt::Display for Address {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}.{}.{}", self.band, self.column, self.row, self.unit)
    }
}

impl From<Address> for String {
    fn from(address: Address) -> Self {
        address.to_string()
    }
}

impl TryFrom<String> for Address {
    type Error = AddressError;

    fn try_from(text: String) -> Result<Self, AddressError> {
        text.parse()
    }
}

impl FromStr for Address {
    type Err = AddressError;

    fn from_str(text: &str) -> Result<Self, AddressError> {
        let numbers: Option<Vec<usize>> =
            text.trim().split('.').map(|part| part.parse().ok().filter(|n| *n > 0)).collect();
        match numbers.as_deref() {
            Some(&[band, column, row, unit]) => Ok(Self { band, column, row, unit }),
            _ => Err(AddressError(text.chars().take(40).collect())),
        }
    }
}
