//! Which print, and which family: the index of one list never looks into another.
//!
//! ```compile_fail,E0277
//! # use rowscape::fabric::{Family, named, Rgb};
//! let fabrics = named(vec![Rgb([9; 3])]);
//! let wrong = &fabrics[Family(0)];
//! ```

/// A family, by its place in a list of families: prints that read as one colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Family(pub usize);

/// A print, by its place in a list of fabrics.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Print(pub usize);

impl From<usize> for Print {
    #[inline(always)]
    fn from(index: usize) -> Self {
        Self(index)
    }
}

impl From<Print> for usize {
    #[inline(always)]
    fn from(print: Print) -> Self {
        print.0
    }
}

impl From<usize> for Family {
    #[inline(always)]
    fn from(index: usize) -> Self {
        Self(index)
    }
}

impl From<Family> for usize {
    #[inline(always)]
    fn from(family: Family) -> Self {
        family.0
    }
}
