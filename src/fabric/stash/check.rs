//! From the file as written to a stash that holds.

use std::ops::Range;

use toml::Spanned;
use typed_index_collections::TiSlice;

use super::file::{FabricEntry, FillerEntry, PackEntry, SliceEntry, StashFile, UnitEntry, YardageEntry};
use super::lenient::{Amount, Many, Side, Text};
use super::{
    FillerOnHand, Oddment, OnHand, SliceOnHand, Squares, Stash, StashError, StashProblem, Supply, UnitOnHand, Yardage,
};
use crate::fabric::{Fabric, Fabrics, Print, Thumbnail, is_unprintable, letters, printable, stand_together};
use crate::measure::Length;

type Checked<T> = Result<T, StashError>;

impl Stash {
    /// Reads and checks a stash file.
    pub fn read(text: &str) -> Result<Self, StashError> {
        match super::palette::palette(text) {
            Some(palette) => palette,
            None => check(super::file::parse(text)?),
        }
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
    let letters = given_letters(&file.fabric)?;
    apart(&file.fabric)?;
    let mut prints: Fabrics =
        file.fabric.iter().zip(letters).map(|(entry, letter)| print(entry, letter)).collect::<Checked<_>>()?;
    file.pack.iter().try_for_each(|pack| share_out(pack, &mut prints))?;
    stand_together(&mut prints);
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
    lines: impl Iterator<Item = Checked<(T, &'a Spanned<Amount>)>>,
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

/// The letter of each fabric: its own, or the first that none has.
fn given_letters(fabrics: &[FabricEntry]) -> Checked<Vec<String>> {
    let own = |entry: &FabricEntry| entry.letter.as_ref().map(letter).transpose();
    let given = fabrics.iter().map(own).collect::<Checked<Vec<Option<String>>>>()?;
    let taken: Vec<String> = given.iter().flatten().map(|letter| letter.to_uppercase()).collect();
    let mut free = letters(2 * fabrics.len()).into_iter().filter(|letter| !taken.contains(letter));
    let all = given.into_iter().map(|given| given.or_else(|| free.next()).expect("twice as many letters as fabrics"));
    Ok(all.collect())
}

fn letter(entry: &Spanned<Text>) -> Checked<String> {
    let text = &entry.get_ref().0;
    let plain = (1..=3).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_alphanumeric());
    match plain {
        true => Ok(text.clone()),
        false => Err(StashError::at(StashProblem::Letter(shorten(text)), entry.span())),
    }
}

fn print(entry: &FabricEntry, letter: String) -> Checked<Fabric> {
    let own = name(&entry.name)?;
    let family = entry.family.as_ref().map_or_else(|| Ok(own.clone()), name)?;
    Ok(Fabric {
        letter,
        name: own,
        colour: entry.colour.0,
        family,
        only_squares: None,
        sketch: entry.sketch.as_ref().map(|sketch| sketch.get_ref().0),
        directional: entry.directional.0 || entry.upright_in_triangles.0,
        upright: entry.upright_in_triangles.0,
        supply: supply(entry)?,
        remnants: None,
        thumbnail: entry.thumbnail.as_ref().map(thumbnail).transpose()?,
        swatch_width: entry.swatch_width.as_ref().map(|width| size(width, "width of the swatch")).transpose()?,
    })
}

/// The small picture of a print.
fn thumbnail(entry: &Spanned<Text>) -> Checked<Thumbnail> {
    let read = Thumbnail::read(&entry.get_ref().0);
    read.map_err(|error| StashError::at(StashProblem::Thumbnail(error), entry.span()))
}

/// The largest square where there is no other cloth.
fn only_squares(supply: &Supply) -> Option<Length> {
    let other = !supply.yardage.is_empty() || supply.fat_quarters > 0 || !supply.oddments.is_empty();
    let sides = supply.squares.iter().map(|squares| squares.size);
    sides.max().filter(|_| !other)
}

/// A name without the space around it.
fn name(entry: &Spanned<Text>) -> Checked<String> {
    let text = entry.get_ref().0.trim();
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
    let folded = |text: &Spanned<Text>| text.get_ref().0.trim().to_lowercase();
    for (i, entry) in fabrics.iter().enumerate() {
        for other in &fabrics[..i] {
            if let (Some(one), Some(two)) = (&entry.letter, &other.letter)
                && folded(one) == folded(two)
            {
                return Err(StashError::at(StashProblem::SameLetter(one.get_ref().0.clone()), one.span()));
            }
            if folded(&entry.name) == folded(&other.name) {
                let problem = StashProblem::SameName(shorten(entry.name.get_ref().0.trim()));
                return Err(StashError::at(problem, entry.name.span()));
            }
            if let (Some(one), Some(two)) = (&entry.sketch, &other.sketch)
                && one.get_ref().0 == two.get_ref().0
            {
                return Err(StashError::at(StashProblem::SameSketch(one.get_ref().0), one.span()));
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
    let yardage = list(entry.yardage.as_ref(), "yardage", yardage)?;
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

/// A length of cloth; as wide as is usual where nothing is said (common practice, no source).
fn yardage(entry: &YardageEntry) -> Checked<Yardage> {
    let length = positive(entry.length.get_ref().0, &entry.length.span(), "length of the yardage")?;
    let usual = if length.is_multiple_of(Length::inches(1, 8)) { Length::inches(42, 1) } else { Length::CM * 110i64 };
    let width = entry.width.as_ref().map(|width| size(width, "width of the yardage")).transpose()?;
    Ok(Yardage { width: width.unwrap_or(usual), length })
}

fn list<E, T>(
    entries: Option<&Spanned<Many<E>>>,
    what: &'static str,
    read: impl Fn(&E) -> Checked<T>,
) -> Checked<Option<Vec<T>>> {
    let Some(entries) = entries else { return Ok(None) };
    let all = &entries.get_ref().0;
    if all.len() > Stash::MOST_ENTRIES {
        return Err(StashError::at(StashProblem::TooManyEntries(all.len(), what), entries.span()));
    }
    let read = all.iter().map(read).collect::<Checked<_>>();
    // What stands alone has the place of the whole.
    let placed = |error: StashError| StashError {
        span: error.span.filter(|span| !span.is_empty()).or(Some(entries.span())),
        ..error
    };
    read.map(Some).map_err(placed)
}

fn size(entry: &Spanned<Side>, what: &'static str) -> Checked<Length> {
    positive(entry.get_ref().0, &entry.span(), what)
}

fn positive(length: Length, span: &Range<usize>, what: &'static str) -> Checked<Length> {
    let problem = match length {
        length if length <= Length::ZERO => StashProblem::NotPositive(what, length.to_string()),
        length if length > Stash::LONGEST => StashProblem::TooLong(what, length.to_string()),
        length => return Ok(length),
    };
    Err(StashError::at(problem, span.clone()))
}

fn count(entry: &Spanned<Amount>) -> Checked<u32> {
    let said = entry.get_ref().0;
    let count = u32::try_from(said).ok().filter(|count| *count <= Stash::MOST_PIECES);
    count.ok_or_else(|| StashError::at(StashProblem::Count(said), entry.span()))
}

/// The print that a letter names, or else a name.
fn index(named: &Spanned<Text>, prints: &TiSlice<Print, Fabric>) -> Checked<Print> {
    let said = &named.get_ref().0;
    let name = said.trim().to_lowercase();
    let found = prints.position(|print| print.letter == *said);
    let found = found.or_else(|| prints.position(|print| print.name.to_lowercase() == name));
    found.ok_or_else(|| StashError::at(StashProblem::UnknownLetter(shorten(said)), named.span()))
}

/// Two letters that must differ.
fn pair(one: &Spanned<Text>, other: &Spanned<Text>, prints: &TiSlice<Print, Fabric>) -> Checked<[Print; 2]> {
    let pair = [index(one, prints)?, index(other, prints)?];
    if pair[0] == pair[1] {
        return Err(StashError::at(StashProblem::OneFabric(shorten(&other.get_ref().0)), other.span()));
    }
    Ok(pair)
}

/// Shares the pack's squares out as evenly as can be, the first prints getting one more.
fn share_out(pack: &PackEntry, prints: &mut TiSlice<Print, Fabric>) -> Checked<()> {
    let (size, count) = (size(&pack.size, "size of the squares")?, count(&pack.count)?);
    let mut named: Vec<Print> = Vec::new();
    for letter in &pack.prints.get_ref().0 {
        let i = index(letter, prints)?;
        if named.contains(&i) {
            return Err(StashError::at(StashProblem::TwiceInPack(shorten(&letter.get_ref().0)), letter.span()));
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
    let [one, other] = entry.fabrics.get_ref().0.as_slice() else {
        let problem = StashProblem::TwoFabrics(entry.fabrics.get_ref().0.len());
        return Err(StashError::at(problem, entry.fabrics.span()));
    };
    let fabrics = pair(one, other, prints)?;
    let (finished, stands) = (size(&entry.finished, "size of the unit")?, entry.stands);
    Ok(UnitOnHand { finished, fabrics, stands, count: count(&entry.count)? })
}

fn slice(entry: &SliceEntry, prints: &TiSlice<Print, Fabric>) -> Checked<SliceOnHand> {
    let [tip, rest] = pair(&entry.tip, &entry.rest, prints)?;
    let (from, width) = (size(&entry.from, "size of the unit")?, size(&entry.width, "width of the slice")?);
    if width >= from {
        let problem = StashProblem::WideSlice { width: width.to_string(), from: from.to_string() };
        return Err(StashError::at(problem, entry.width.span()));
    }
    Ok(SliceOnHand { from, width, tip, rest, leans: entry.leans, stands: entry.stands, count: count(&entry.count)? })
}

fn filler(entry: &FillerEntry, prints: &TiSlice<Print, Fabric>) -> Checked<FillerOnHand> {
    let fabric = index(&entry.fabric, prints)?;
    let (width, height) = (size(&entry.width, "width of the filler")?, size(&entry.height, "height of the filler")?);
    Ok(FillerOnHand { fabric, width, height, count: count(&entry.count)? })
}
