//! Units joined to rows, rows to columns, columns to bands, bands to the top.

use super::compare::compare;
use super::cut::{Bench, Ends, Made, address};
use super::fault::{Fault, short};
use super::paper::{Point, Size, point};
use super::proven::Proven;
use super::rows::{Record, SEWN, Step, UnitStep};
use super::scene::{Column, Row, Scene, Unit};
use crate::measure::Length;

/// Goes through rows.csv in the order in which the plan is sewn.
pub struct Walk<'a> {
    scene: &'a Scene,
    steps: std::slice::Iter<'a, Step>,
    bench: Bench<'a>,
    proven: Proven,
}

/// Parts sewn edge to edge, all of one measure across.
struct Joined {
    both: Length,
    /// Unfinished length of what is sewn so far.
    along: Option<Length>,
    across: Option<Length>,
}

impl Joined {
    fn new(both: Length) -> Self {
        Self { both, along: None, across: None }
    }

    /// Where the next part starts, finished.
    fn start(&self) -> Length {
        self.along.map_or(Length::ZERO, |along| along - self.both)
    }

    /// Sews the next part on, and tells the measure that it should have had across where it has another.
    fn sew(&mut self, along: Length, across: Length) -> Option<Length> {
        self.along = Some(self.start() + along);
        let due = *self.across.get_or_insert(across);
        (due != across).then_some(due)
    }
}

impl<'a> Walk<'a> {
    /// Starts at the first line.
    pub fn new(scene: &'a Scene, steps: &'a [Step], bench: Bench<'a>) -> Self {
        Self { scene, steps: steps.iter(), bench, proven: Proven::default() }
    }

    /// Sews the whole top; what it took from the bench.
    pub fn sew(mut self) -> Result<(Proven, Bench<'a>), Fault> {
        let mut joined = self.joined();
        for (number, band) in (1_u32..).zip(&self.scene.bands) {
            let sewn = self.band(&number.to_string(), band, joined.start())?;
            self.fits(&number.to_string(), joined.sew(sewn.height, sewn.width))?;
        }
        let step = self.next(Record::Top, "top")?;
        let size = self.measure(step, joined.across, joined.along)?.less(self.scene.both());
        if size != self.scene.size {
            let (is, due) = (self.scene.show_size(size), self.scene.show_size(self.scene.size));
            return Err(step.line.fault(format!("the top finishes {is}, and {due} was asked for")));
        }
        if let Some(step) = self.steps.next() {
            return Err(step.line.fault("it stands after the top"));
        }
        self.bench.settle()?;
        self.proven.squares = self.bench.squares();
        Ok((self.proven, self.bench))
    }

    fn joined(&self) -> Joined {
        Joined::new(self.scene.both())
    }

    fn band(&mut self, name: &str, columns: &'a [Column], y: Length) -> Result<Size, Fault> {
        let mut joined = self.joined();
        for (number, column) in (1_u32..).zip(columns) {
            let name = format!("{name}.{number}");
            let sewn = self.column(&name, column, point(joined.start(), y))?;
            self.fits(&name, joined.sew(sewn.width, sewn.height))?;
        }
        self.proven.bands += 1;
        let step = self.next(Record::Band, name)?;
        self.measure(step, joined.along, joined.across)
    }

    fn column(&mut self, name: &str, rows: &'a [Row], at: Point) -> Result<Size, Fault> {
        let mut joined = self.joined();
        for (number, row) in (1_u32..).zip(rows) {
            let name = format!("{name}.{number}");
            let sewn = self.row(&name, row, point(at.x, at.y + joined.start()))?;
            self.fits(&name, joined.sew(sewn.height, sewn.width))?;
        }
        self.proven.columns += 1;
        let step = self.next(Record::Column, name)?;
        self.measure(step, joined.across, joined.along)
    }

    fn row(&mut self, name: &str, units: &'a [Unit], at: Point) -> Result<Size, Fault> {
        let mut joined = self.joined();
        let mut over = Length::ZERO;
        for (number, unit) in (1..).zip(units) {
            let ends = match (number == 1, number == units.len()) {
                (true, true) => Ends::Both,
                (false, false) => Ends::Neither,
                _ => Ends::One,
            };
            over += self.unit(&format!("{name}.{number}"), unit, at, ends, &mut joined)?;
        }
        self.proven.rows += 1;
        let step = self.next(Record::Row, name)?;
        let sewn = self.measure(step, joined.along, joined.across)?;
        self.first_sewn(step, sewn, over)?;
        Ok(sewn)
    }

    /// Makes one unit, sews it on and compares it with the plan; gives what its end is cut over.
    fn unit(
        &mut self,
        name: &str,
        planned: &Unit,
        row: Point,
        ends: Ends,
        joined: &mut Joined,
    ) -> Result<Length, Fault> {
        let step = self.next(Record::Unit, name)?;
        let Some(unit) = &step.unit else { return Err(step.line.fault("it is no unit")) };
        let at = point(row.x + joined.start(), row.y);
        let made = match (unit.from == SEWN, planned.sewn) {
            (false, false) => self.bench.make(step, unit, ends)?,
            (true, true) => self.sewn(step, unit, planned, at)?,
            (true, false) => return Err(step.line.fault("it is not sewn yet in the plan")),
            (false, true) => return Err(step.line.fault("it is sewn already in the plan, and asked for once more")),
        };
        let size = made.unfinished.size;
        self.fits(name, joined.sew(size.width, size.height))?;
        compare(self.scene, step, unit, planned, &made.finished, at)?;
        self.proven.units += 1;
        self.proven.patches += planned.patches.len();
        match unit.second {
            None => self.proven.fillers += 1,
            Some(_) if self.bench.is_offcut(unit) => self.proven.offcuts += 1,
            Some(_) => {}
        }
        Ok(made.over)
    }

    /// A unit that is sewn already: as planned, and nothing is done to it.
    fn sewn(&self, step: &Step, unit: &UnitStep, planned: &Unit, at: Point) -> Result<Made, Fault> {
        step.line.nothing_in(&["turn", "cut_width", "cut_height", "strip", "strip_side", "offcut", "bias"])?;
        let both = self.scene.both();
        let size = Size { width: planned.size.width + both, height: planned.size.height + both };
        if step.finished != planned.size || step.unfinished != size {
            return Err(step.line.fault("it has another size in the plan"));
        }
        let mut letters: Vec<&str> = planned.patches.iter().map(|patch| patch.fabric.as_str()).collect();
        let mut written: Vec<&str> =
            [Some(unit.first.as_str()), unit.second.as_deref()].into_iter().flatten().collect();
        letters.sort_unstable();
        written.sort_unstable();
        if letters != written {
            return Err(step.line.fault("its fabrics are not those of the plan"));
        }
        Ok(Made::sewn(&planned.patches, at, size, self.scene.seam))
    }

    fn fits(&self, at: &str, due: Option<Length>) -> Result<(), Fault> {
        match due {
            None => Ok(()),
            Some(due) => {
                Err(Fault::new(at, format!("it cannot be joined to the one before, of {}", self.scene.show(due))))
            }
        }
    }

    /// Holds what was joined against the line that measures it.
    fn measure(&self, step: &Step, width: Option<Length>, height: Option<Length>) -> Result<Size, Fault> {
        let unfinished = Size { width: width.unwrap_or_default(), height: height.unwrap_or_default() };
        let finished = unfinished.less(self.scene.both());
        for (is, written, words) in [(unfinished, step.unfinished, "unfinished"), (finished, step.finished, "finished")]
        {
            if is != written {
                let (is, written) = (self.scene.show_size(is), self.scene.show_size(written));
                return Err(step.line.fault(format!("its parts make {is} {words}, and {written} is written")));
            }
        }
        Ok(unfinished)
    }

    /// Checks the width before the ends are trimmed, where one is written or due.
    fn first_sewn(&self, step: &Step, sewn: Size, over: Length) -> Result<(), Fault> {
        let (width, height) = step.cut;
        let (due, tall) = (sewn.width + over, sewn.height);
        if width.unwrap_or(sewn.width) == due && height.unwrap_or(tall) == tall {
            return Ok(());
        }
        let due = self.scene.show_size(Size { width: due, height: tall });
        Err(step.line.fault(format!("before its ends are trimmed it measures {due}, which is not what is written")))
    }

    /// The next line, which must be that of `record` at `name`.
    fn next(&mut self, record: Record, name: &str) -> Result<&'a Step, Fault> {
        let missing = |instead: String| Err(Fault::new(name, format!("its {} is missing: {instead}", words(record))));
        let Some(step) = self.steps.next() else { return missing("rows.csv ends before it".into()) };
        if step.record == record && address(step) == name {
            return Ok(step);
        }
        match (place(step.record, address(step)), place(record, name)) {
            (Some(found), Some(due)) if found > due => {
                missing(format!("the next is the {} of {}", words(step.record), step.line.at))
            }
            (Some(_), _) => Err(step.line.fault(format!("its {} stands twice or out of order", words(step.record)))),
            (None, _) => {
                Err(step.line.fault(format!("`{}` is no address of a {}", short(address(step)), words(step.record))))
            }
        }
    }
}

fn words(record: Record) -> &'static str {
    match record {
        Record::Unit => "unit",
        Record::Row => "row",
        Record::Column => "column",
        Record::Band => "band",
        Record::Top => "top",
    }
}

/// Where a line stands in the order of sewing: each part before the whole that it belongs to.
fn place(record: Record, address: &str) -> Option<[u32; 4]> {
    let depth = match record {
        Record::Unit => 4,
        Record::Row => 3,
        Record::Column => 2,
        Record::Band => 1,
        Record::Top => return (address == "top").then_some([u32::MAX; 4]),
    };
    let numbers: Vec<u32> = address.split('.').map(|part| part.parse().ok()).collect::<Option<_>>()?;
    let mut place = [u32::MAX; 4];
    place.iter_mut().zip(&numbers).for_each(|(to, number)| *to = *number);
    (numbers.len() == depth).then_some(place)
}
