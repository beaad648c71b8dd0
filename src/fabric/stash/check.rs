//! From the file as written to a stash that holds.

use toml::Spanned;
use typed_index_collections::TiSlice;

use super::file::{FabricEntry, FillerEntry, PackEntry, SliceEntry, StashFile, UnitEntry};
use super::{
    FillerOnHand, Oddment, OnHand, SliceOnHand, Squares, Stash, StashError, StashProblem, Supply, UnitOnHand, Yardage,
};
use crate::fabric::{Fabric, Fabrics, Print, is_unprintable, printable};
use crate::measure::Length;

type Checked<T> = Result<T, StashError>;

impl Stash {
    /// Reads and checks a stash file.
    pub fn read(text: &str) -> Result<Self, StashError> {
        check(super::file::parse(text)?)
    }
}

fn check(file: StashFile) -> Checked<Stash> {
    let most = |len: usize, what| match len > Stash::MOST_ENTRIES {
        true => Err(StashError::of_file(StashProblem::TooManyEntries(len, what))),
        false => Ok(()),
    };
    match file.fabric.len() {
        0 => return Err(StashError::of_file(StashProblem::NoFabric)),
        len if len > Stash::MOST_FABRICS => return Err(StashError::of_file(StashProblem::TooManyFabrics(len))),
        _ => {}
    }
    most(file.pack.len(), "pack")?;
    most(file.unit.len(), "unit")?;
    most(file.slice.len(), "slice")?;
    most(file.filler.len(), "filler")?;
    let mut prints: Fabrics = file.fabric.iter().map(print).collect::<Checked<_>>()?;
    apart(&file.fabric)?;
    file.pack.iter().try_for_each(|pack| share_out(pack, &mut prints))?;
    prints.iter_mut().for_each(|print| print.only_squares = print.supply.as_ref().and_then(only_squares));
    let units = file.unit.iter().map(|entry| Ok((unit(entry, &prints)?, &entry.count)));
    let slices = file.slice.iter().map(|entry| Ok((slice(entry, &prints)?, &entry.count)));
    let fillers = file.filler.iter().map(|entry| Ok((filler(entry, &prints)?, &entry.count)));
    let hand = OnHand {
        units: added_up(units, UnitOnHand::same, |unit| &mut unit.count)?,
        slices: added_up(slices, SliceOnHand::same, |slice| &mut slice.count)?,
        fillers: added_up(fillers, FillerOnHand::same, |filler| &mut filler.count)?,
    };
    Ok(Stash { hand, prints })
}

/// Lines that say the same, added up in the first's place.
fn added_up<'a, T>(
    lines: impl Iterator<Item = Checked<(T, &'a Spanned<i64>)>>,
    same: impl Fn(&T, &T) -> bool,
    count: impl Fn(&mut T) -> &mut u32,
) -> Checked<Vec<T>> {
    let mut all: Vec<T> = Vec::new();
    for line in lines {
        let (mut piece, said) = line?;
        let Some(first) = all.iter_mut().find(|first| same(first, &piece)) else {
            all.push(piece);
            continue;
        };
        // Each of the two is at most `MOST_PIECES`.
        let sum = *count(first) + *count(&mut piece);
        if sum > Stash::MOST_PIECES {
            return Err(StashError::at(StashProblem::InAll(sum), said.span()));
        }
        *count(first) = sum;
    }
    Ok(all)
}

fn print(entry: &FabricEntry) -> Checked<Fabric> {
    let text = entry.letter.get_ref();
    let plain = (1..=3).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_alphanumeric());
    if !plain {
        return Err(StashError::at(StashProblem::Letter(shorten(text)), entry.letter.span()));
    }
    let own = name(&entry.name)?;
    let family = entry.family.as_ref().map_or_else(|| Ok(own.clone()), name)?;
    Ok(Fabric {
        letter: text.clone(),
        name: own,
        colour: entry.colour,
        family,
        only_squares: None,
        sketch: entry.sketch.as_ref().map(|sketch| *sketch.get_ref()),
        directional: entry.directional,
        supply: supply(entry)?,
    })
}

/// The largest square where there is no other cloth.
fn only_squares(supply: &Supply) -> Option<Length> {
    let other = !supply.yardage.is_empty() || supply.fat_quarters > 0 || !supply.oddments.is_empty();
    let sides = supply.squares.iter().map(|squares| squares.size);
    sides.max().filter(|_| !other)
}

/// A name without the space around it.
fn name(entry: &Spanned<String>) -> Checked<String> {
    let text = entry.get_ref().trim();
    let length = text.chars().count();
    if length == 0 || length > Stash::MOST_CHARACTERS || text.chars().any(is_unprintable) {
        return Err(StashError::at(StashProblem::Name(shorten(text)), entry.span()));
    }
    Ok(text.to_owned())
}

fn shorten(text: &str) -> String {
    let mut short: String = printable(text).chars().take(40).collect();
    if text.chars().nth(40).is_some() {
        short.push('…');
    }
    short
}

/// Letters, names and painted colours stand for one fabric each.
fn apart(fabrics: &[FabricEntry]) -> Checked<()> {
    let folded = |text: &Spanned<String>| text.get_ref().trim().to_lowercase();
    for (i, entry) in fabrics.iter().enumerate() {
        for other in &fabrics[..i] {
            if folded(&entry.letter) == folded(&other.letter) {
                let problem = StashProblem::SameLetter(entry.letter.get_ref().clone());
                return Err(StashError::at(problem, entry.letter.span()));
            }
            if folded(&entry.name) == folded(&other.name) {
                let problem = StashProblem::SameName(shorten(entry.name.get_ref().trim()));
                return Err(StashError::at(problem, entry.name.span()));
            }
            if let (Some(one), Some(two)) = (&entry.sketch, &other.sketch)
                && one.get_ref() == two.get_ref()
            {
                return Err(StashError::at(StashProblem::SameSketch(*one.get_ref()), one.span()));
            }
        }
    }
    Ok(())
}

/// What there is; none where the entry has no counts at all.
fn supply(entry: &FabricEntry) -> Checked<Option<Supply>> {
    let squares = list(entry.squares.as_ref(), "squares", |e| {
        Ok(Squares { size: size(&e.size, "size of the squares")?, count: count(&e.count)? })
    })?;
    let yardage = list(entry.yardage.as_ref(), "yardage", |e| {
        Ok(Yardage {
            width: size(&e.width, "width of the yardage")?,
            length: size(&e.length, "length of the yardage")?,
        })
    })?;
    let oddments = list(entry.oddments.as_ref(), "oddments", |e| {
        let (width, height) = (size(&e.width, "width of the oddment")?, size(&e.height, "height of the oddment")?);
        Ok(Oddment { width, height, count: count(&e.count)? })
    })?;
    let fat_quarters = entry.fat_quarters.as_ref().map(count).transpose()?;
    let counted = squares.is_some() || yardage.is_some() || oddments.is_some() || fat_quarters.is_some();
    Ok(counted.then(|| Supply {
        squares: squares.unwrap_or_default(),
        yardage: yardage.unwrap_or_default(),
        fat_quarters: fat_quarters.unwrap_or_default(),
        oddments: oddments.unwrap_or_default(),
    }))
}

fn list<E, T>(
    entries: Option<&Spanned<Vec<E>>>,
    what: &'static str,
    read: impl Fn(&E) -> Checked<T>,
) -> Checked<Option<Vec<T>>> {
    let Some(entries) = entries else { return Ok(None) };
    let len = entries.get_ref().len();
    if len > Stash::MOST_ENTRIES {
        return Err(StashError::at(StashProblem::TooManyEntries(len, what), entries.span()));
    }
    entries.get_ref().iter().map(read).collect::<Checked<_>>().map(Some)
}

fn size(entry: &Spanned<Length>, what: &'static str) -> Checked<Length> {
    let length = *entry.get_ref();
    let problem = match length {
        length if length <= Length::ZERO => StashProblem::NotPositive(what, length.to_string()),
        length if length > Stash::LONGEST => StashProblem::TooLong(what, length.to_string()),
        length => return Ok(length),
    };
    Err(StashError::at(problem, entry.span()))
}

fn count(entry: &Spanned<i64>) -> Checked<u32> {
    let count = u32::try_from(*entry.get_ref()).ok().filter(|count| *count <= Stash::MOST_PIECES);
    count.ok_or_else(|| StashError::at(StashProblem::Count(*entry.get_ref()), entry.span()))
}

fn index(letter: &Spanned<String>, prints: &TiSlice<Print, Fabric>) -> Checked<Print> {
    let found = prints.position(|print| print.letter == *letter.get_ref());
    found.ok_or_else(|| StashError::at(StashProblem::UnknownLetter(shorten(letter.get_ref())), letter.span()))
}

/// Two letters that must differ.
fn pair(one: &Spanned<String>, other: &Spanned<String>, prints: &TiSlice<Print, Fabric>) -> Checked<[Print; 2]> {
    let pair = [index(one, prints)?, index(other, prints)?];
    if pair[0] == pair[1] {
        return Err(StashError::at(StashProblem::OneFabric(other.get_ref().clone()), other.span()));
    }
    Ok(pair)
}

/// Shares the pack's squares out as evenly as can be, the first prints getting one more.
fn share_out(pack: &PackEntry, prints: &mut TiSlice<Print, Fabric>) -> Checked<()> {
    let (size, count) = (size(&pack.size, "size of the squares")?, count(&pack.count)?);
    let mut named: Vec<Print> = Vec::new();
    for letter in pack.prints.get_ref() {
        let i = index(letter, prints)?;
        if named.contains(&i) {
            return Err(StashError::at(StashProblem::TwiceInPack(letter.get_ref().clone()), letter.span()));
        }
        named.push(i);
    }
    if named.is_empty() {
        return Err(StashError::at(StashProblem::EmptyPack, pack.prints.span()));
    }
    // No print is named twice, so there are at most as many as fabrics.
    let shares = named.len() as u32;
    for (place, i) in (0..).zip(named) {
        let share = count / shares + u32::from(place < count % shares);
        prints[i].supply.get_or_insert_default().squares.push(Squares { size, count: share });
    }
    Ok(())
}

fn unit(entry: &UnitEntry, prints: &TiSlice<Print, Fabric>) -> Checked<UnitOnHand> {
    let [one, other] = entry.fabrics.get_ref().as_slice() else {
        let problem = StashProblem::TwoFabrics(entry.fabrics.get_ref().len());
        return Err(StashError::at(problem, entry.fabrics.span()));
    };
    let fabrics = pair(one, other, prints)?;
    Ok(UnitOnHand { finished: size(&entry.finished, "size of the unit")?, fabrics, count: count(&entry.count)? })
}

fn slice(entry: &SliceEntry, prints: &TiSlice<Print, Fabric>) -> Checked<SliceOnHand> {
    let [tip, rest] = pair(&entry.tip, &entry.rest, prints)?;
    let (from, width) = (size(&entry.from, "size of the unit")?, size(&entry.width, "width of the slice")?);
    if width >= from {
        let problem = StashProblem::WideSlice { width: width.to_string(), from: from.to_string() };
        return Err(StashError::at(problem, entry.width.span()));
    }
    Ok(SliceOnHand { from, width, tip, rest, leans: entry.leans, count: count(&entry.count)? })
}

fn filler(entry: &FillerEntry, prints: &TiSlice<Print, Fabric>) -> Checked<FillerOnHand> {
    let fabric = index(&entry.fabric, prints)?;
    let (width, height) = (size(&entry.width, "width of the filler")?, size(&entry.height, "height of the filler")?);
    Ok(FillerOnHand { fabric, width, height, count: count(&entry.count)? })
}
