//! A scene in packets is the scene: every row, unit, pair, filler and piece on hand in one of them, and no more.

use std::collections::BTreeMap;
use std::path::Path;

use rowscape::job::{self, Brief, Change, JobError, ReviseBrief, SharedOut, Sizes, TopPart};
use rowscape::make::{Handed, Handover, Packet, Source, Work, make};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Address, Plan, RowEnds, State};
use rowscape::render::Options;
use rowscape::watch::UNWATCHED;
use roxmltree::{Document, Node, ParsingOptions};

fn composed(picture: &str, brief: Brief) -> Plan {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches");
    let bytes = std::fs::read(samples.join(picture).with_extension("png")).unwrap();
    job::compose(&brief, &bytes, None, &UNWATCHED).unwrap().plan
}

/// Bought cloth, a top begun, spare row ends, a stash of packs, and pieces on hand.
fn scenes() -> Vec<(&'static str, Plan)> {
    let read = |name: &str| {
        let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches");
        Some(std::fs::read_to_string(samples.join(name)).unwrap())
    };
    let wide = |width: &str, ruler: Ruler| Brief { width: Some(width.parse().unwrap()), ..Brief::usual(ruler) };
    let squares = Some(vec!["25cm/4".parse().unwrap(), "25cm".parse().unwrap()]);
    let sizes = Sizes { squares, ..Sizes::default() };
    let spare = Brief { row_ends: RowEnds::Spare, sizes, ..wide("60cm", Ruler::Metric) };
    let packs = Brief { stash: read("stash-two-packs.toml"), rounds: 8, ..wide("36in", Ruler::Inch) };
    let heap = Brief { stash: read("stash-heap.toml"), rounds: 8, ..wide("18in", Ruler::Inch) };
    let stash = read("stash-two-packs.toml").map(|text| text.replacen("count = 40", "count = 400", 2));
    let stash = stash.map(|text| text.replacen("letter = \"D\"", "letter = \"D\"\nupright_in_triangles = true", 1));
    let upright = Brief { stash, rounds: 8, ..wide("36in", Ruler::Inch) };
    let bought = composed("lighthouse-dusk", wide("54in", Ruler::Inch));
    let changes =
        vec![Change::Mark(TopPart::Row(1, 1, 1), State::Sewn), Change::Mark(TopPart::Column(2, 2), State::Sewn)];
    let sewn = ReviseBrief { changes, ..ReviseBrief::default() };
    let begun = job::revise(&bought, &sewn, None, None, &UNWATCHED).unwrap().plan;
    vec![
        ("bought", bought),
        ("begun", begun),
        ("spare", composed("moonrise-sail", spare)),
        ("packs", composed("moonrise-sail", packs)),
        ("heap", composed("lighthouse-dusk", heap)),
        ("upright", composed("lighthouse-dusk", upright)),
    ]
}

/// Units of the rows that come from here.
fn from(work: &Work, source: Source) -> u32 {
    work.rows.iter().flat_map(|row| &row.units).filter(|unit| unit.source == source).count() as u32
}

fn units_of(handovers: &[Handover], batch: usize) -> u32 {
    let count = |handover: &Handover| match handover.what {
        Handed::Units { batch: of, count, .. } if of == batch => count,
        _ => 0,
    };
    handovers.iter().map(count).sum()
}

fn sum(packets: &[Packet], count: impl Fn(&Packet) -> u32) -> u32 {
    packets.iter().map(count).sum()
}

fn assert_is_the_scene(work: &Work, packets: &[Packet]) {
    let rows: Vec<_> = packets.iter().flat_map(|packet| &packet.work.rows).collect();
    assert_eq!(rows, work.rows.iter().collect::<Vec<_>>());
    for (at, batch) in work.batches.iter().enumerate() {
        assert_eq!(sum(packets, |packet| packet.work.batches[at].pairs), batch.pairs, "{}", batch.id);
        assert_eq!(sum(packets, |packet| packet.work.batches[at].needed), batch.needed, "{}", batch.id);
        assert_eq!(sum(packets, |packet| packet.work.batches[at].spare()), batch.spare(), "{}", batch.id);
        for packet in packets {
            let own = &packet.work.batches[at];
            let sewn = from(&packet.work, Source::Batch(at)) + units_of(&packet.gives, at);
            assert_eq!(sewn, own.needed + units_of(&packet.gets, at), "{}", batch.id);
            assert!(own.made() >= own.needed, "{}", batch.id);
        }
    }
    for (at, filler) in work.fillers.iter().enumerate() {
        assert_eq!(sum(packets, |packet| packet.work.fillers[at].count), filler.count, "{}", filler.id);
    }
    for (at, hand) in work.hand.iter().enumerate() {
        assert_eq!(sum(packets, |packet| packet.work.hand[at].used), hand.used, "{}", hand.id);
    }
    assert_eq!(packets.iter().map(|packet| packet.work.fillers.len()).max(), Some(work.fillers.len()));
}

fn assert_handed_over(packets: &[Packet]) {
    let list = |of: fn(&Packet) -> &Vec<Handover>, turned: bool| {
        let one = |(at, handover): (usize, &Handover)| {
            let between = if turned { (handover.with, at) } else { (at, handover.with) };
            format!("{between:?} {:?}", handover.what)
        };
        let all = packets.iter().enumerate().flat_map(|(at, packet)| of(packet).iter().map(move |of| (at, of)));
        let mut all: Vec<String> = all.map(one).collect();
        all.sort();
        all
    };
    assert_eq!(list(|packet| &packet.gives, false), list(|packet| &packet.gets, true));
    for packet in packets {
        let own =
            |at: Address| packet.work.rows.iter().any(|row| row.units.iter().any(|unit| unit.placed.address == at));
        for unit in packet.work.rows.iter().flat_map(|row| &row.units) {
            let Source::Offcut(from) = unit.source else { continue };
            let handed = Handed::Strip { from, to: unit.placed.address };
            let got = packet.gets.iter().filter(|handover| handover.what == handed).count();
            assert_eq!(got, usize::from(!own(from)), "the strip of {from}");
        }
    }
}

/// Where cells of different packets touch there is a meeting of their packets, as long as the seam that joins them.
fn assert_meetings(plan: &Plan, shared: &SharedOut) {
    let packets = &shared.packets.packets;
    let home: BTreeMap<[usize; 3], usize> = packets
        .iter()
        .enumerate()
        .flat_map(|(at, packet)| packet.work.rows.iter().map(move |row| (key(row.address), at)))
        .collect();
    let (columns, rows) = plan.request.cells();
    let mut cells = vec![None; (columns * rows) as usize];
    for placed in plan.placed() {
        for (x, y) in (0..placed.unit.width).flat_map(|x| (0..placed.height).map(move |y| (x, y))) {
            cells[((placed.y + y) * columns + placed.x + x) as usize] = Some(key(placed.address));
        }
    }
    let there = |x: u32, y: u32| cells[(y * columns + x) as usize].expect("a top has no holes");
    for (x, y) in (0..columns).flat_map(|x| (0..rows).map(move |y| (x, y))) {
        let right = (x + 1 < columns).then(|| there(x + 1, y));
        let below = (y + 1 < rows).then(|| there(x, y + 1));
        for (here, next) in [right, below].into_iter().flatten().map(|next| (there(x, y), next)) {
            if home[&here] == home[&next] {
                continue;
            }
            let after = match () {
                () if here[0] != next[0] => [next[0], 0, 0],
                () if here[1] != next[1] => [next[0], next[1], 0],
                () => next,
            };
            let meeting = shared.packets.meetings.iter().find(|meeting| meeting.after == after);
            let meeting = meeting.unwrap_or_else(|| panic!("{here:?} and {next:?} meet"));
            assert!(meeting.packets[0].contains(&home[&here]) && meeting.packets[1].contains(&home[&next]));
        }
    }
    for meeting in &shared.packets.meetings {
        let length = match meeting.after {
            [_, 0, _] => plan.request.width,
            [band, _, 0] => plan.request.grid * plan.bands[band - 1].height,
            [band, column, _] => plan.request.grid * plan.bands[band - 1].columns[column - 1].width,
        };
        assert_eq!(meeting.finished, length, "{:?}", meeting.after);
    }
    let mut tall: BTreeMap<[usize; 2], Length> = BTreeMap::new();
    for run in packets.iter().flat_map(|packet| &packet.joined) {
        *tall.entry([run.first.band, run.first.column]).or_insert(Length::ZERO) += run.finished.height;
    }
    for ([band, column], height) in tall {
        assert_eq!(height, plan.request.grid * plan.bands[band - 1].height, "column {band}.{column}");
    }
}

fn key(at: Address) -> [usize; 3] {
    [at.band, at.column, at.row]
}

fn assert_even(work: &Work, packets: &[Packet]) {
    let all: u64 = packets.iter().map(|packet| packet.load).sum();
    let load = |row: &rowscape::make::RowWork| {
        let of = |wanted: fn(Source) -> bool| row.units.iter().filter(|unit| wanted(unit.source)).count();
        of(|source| source != Source::Sewn) + of(|source| matches!(source, Source::Batch(_)))
    };
    let heaviest = work.rows.iter().map(load).max().unwrap() as f64;
    let even = all as f64 / packets.len() as f64;
    for packet in packets {
        let off = (packet.load as f64 - even).abs();
        assert!(heaviest > even || off <= even / 10.0 + heaviest, "{} of {even}", packet.load);
    }
}

fn parsed(html: &str) -> Document<'_> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    Document::parse_with_options(html, options).unwrap()
}

/// The cells of a class of tables that stand under a head, as they read.
fn cells(document: &Document, class: &str, head: &str) -> Vec<String> {
    let tables = document.descendants().filter(|node| node.attribute("class") == Some(class));
    let cells = tables.flat_map(|table| {
        table.descendants().filter(|node| node.attribute("data-label") == Some(head)).collect::<Vec<_>>()
    });
    let text = |cell: Node| cell.descendants().filter(Node::is_text).filter_map(|node| node.text()).collect::<String>();
    cells.map(text).collect()
}

/// The pages say of every row, pair and filler what the build list says, all together.
fn assert_pages(work: &Work, shared: &SharedOut) {
    let pages = shared.files.iter().filter(|file| file.name.starts_with("packet-"));
    let texts: Vec<String> = pages.map(|page| String::from_utf8(page.bytes.clone()).unwrap()).collect();
    let documents: Vec<Document> = texts.iter().map(|text| parsed(text)).collect();
    assert_eq!(documents.len(), shared.packets.packets.len());
    let ids = documents.iter().flat_map(|page| {
        page.descendants()
            .filter_map(|node| node.attribute("id"))
            .filter(|id| id.starts_with("row-"))
            .collect::<Vec<_>>()
    });
    let ids: Vec<&str> = ids.collect();
    let rows: Vec<String> = work.rows.iter().map(|row| format!("row-{}", row.address.row_words())).collect();
    assert_eq!(ids, rows);
    let of = |class: &str, name: &str, count: &str| {
        let mut all: BTreeMap<String, u32> = BTreeMap::new();
        for page in &documents {
            for (name, count) in cells(page, class, name).into_iter().zip(cells(page, class, count)) {
                *all.entry(name).or_default() += count.parse::<u32>().unwrap();
            }
        }
        all
    };
    let pairs: BTreeMap<String, u32> = work.batches.iter().map(|batch| (batch.id.clone(), batch.pairs)).collect();
    assert_eq!(of("pairs", "Pair", "Pairs"), pairs);
    let fillers: BTreeMap<String, u32> = work.fillers.iter().map(|filler| (filler.id.clone(), filler.count)).collect();
    assert_eq!(of("fillers", "Filler", "Count"), fillers);
    let hand: BTreeMap<String, u32> = work.hand.iter().map(|hand| (hand.id.clone(), hand.used)).collect();
    assert_eq!(of("hand", "On hand", "Use"), hand);
    let whole = shared.files.iter().find(|file| file.name == "packets.html").unwrap();
    let whole = std::str::from_utf8(&whole.bytes).unwrap();
    assert_eq!(cells(&parsed(whole), "parts", "Seam").len(), shared.packets.meetings.len());
}

#[test]
fn packets_together_are_the_scene() {
    let (mut handed, mut met) = (0, 0);
    for (name, plan) in scenes() {
        let work = make(&plan);
        for sewers in [1, 2, 3, 4, 7].into_iter().filter(|sewers| *sewers <= work.rows.len()) {
            let shared = job::packets(&plan, sewers as u32, &Options::default(), &UNWATCHED).unwrap();
            let packets = &shared.packets.packets;
            assert_eq!(packets.len(), sewers, "{name}");
            assert_is_the_scene(&work, packets);
            assert_handed_over(packets);
            assert_meetings(&plan, &shared);
            assert_even(&work, packets);
            assert_pages(&work, &shared);
            let loads: Vec<u64> = packets.iter().map(|packet| packet.load).collect();
            println!("{name}, {sewers} sewers: seams and trims {loads:?}");
            handed += packets.iter().map(|packet| packet.gives.len()).sum::<usize>();
            met += shared.packets.meetings.len();
        }
    }
    assert!(handed > 0 && met > 0, "{handed} handed over, {met} met");
}

#[test]
fn no_more_sewers_than_rows() {
    let width = Some(Length::INCH * 12i64);
    let plan = composed("moonrise-sail", Brief { width, ..Brief::usual(Ruler::Inch) });
    let rows = plan.rows().len() as u32;
    let refused = |sewers| match job::packets(&plan, sewers, &Options::default(), &UNWATCHED) {
        Err(JobError::Sewers { asked, most }) => (asked, most),
        other => panic!("{other:?}"),
    };
    assert_eq!(refused(0).0, 0);
    assert_eq!(refused(rows + 1), (rows + 1, rows));
    assert_eq!(refused(61), (61, 60));
    assert_eq!(
        job::packets(&plan, rows, &Options::default(), &UNWATCHED).unwrap().packets.packets.len(),
        rows as usize
    );
}
