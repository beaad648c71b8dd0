//! What was written, read again by other means.

use std::collections::BTreeSet;

use super::{Options, build_list, cutting_csv, png, rows_csv, sample, svg};
use crate::cutting::SheetKind;
use crate::fabric::{Fabric, Print, Rgb, Supply, Yardage};
use crate::make::{Source, Work, make};
use crate::measure::Length;
use crate::plan::{Piece, Plan, State, Unit};

const PLAIN: Options = Options { seams: true, greys: false, large_map: false, pixels: 1600 };

fn samples() -> [(Plan, Work); 2] {
    [sample::inch(), sample::metric()]
}

fn xml(text: &str) -> roxmltree::Document<'_> {
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    roxmltree::Document::parse_with_options(text, options).expect("well formed")
}

/// Millionths of an inch.
fn millionths(text: &str) -> i128 {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    assert!(part.len() <= 6, "{text}");
    format!("{whole}{part:0<6}").parse().expect(text)
}

fn points(polygon: &roxmltree::Node) -> Vec<(i128, i128)> {
    let pairs = polygon.attribute("points").expect("points").split(' ');
    pairs.map(|pair| pair.split_once(',').expect(pair)).map(|(x, y)| (millionths(x), millionths(y))).collect()
}

fn twice_the_area(points: &[(i128, i128)]) -> i128 {
    points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum()
}

#[test]
fn the_polygons_are_the_patches_and_tile_the_top() {
    for (plan, work) in samples() {
        for seams in [true, false] {
            let text = svg(&plan, &work, &Options { seams, ..PLAIN });
            let document = xml(&text);
            let all: Vec<_> = document.descendants().filter(|node| node.has_tag_name("polygon")).collect();
            let patches: usize = plan.placed().iter().map(|placed| placed.patches().len()).sum();
            assert_eq!(all.len(), patches);
            let view: Vec<i128> =
                document.root_element().attribute("viewBox").expect("view").split(' ').map(millionths).collect();
            let area: i128 = all.iter().map(|polygon| twice_the_area(&points(polygon))).sum();
            assert_eq!(area, 2 * view[2] * view[3]);
            assert_eq!(document.descendants().any(|node| node.has_tag_name("path")), seams);
            let units: BTreeSet<_> = all.iter().map(|polygon| polygon.attribute("data-unit")).collect();
            assert_eq!(units.len(), plan.placed().len());
        }
    }
}

#[test]
fn a_polygon_names_its_unit_kind_and_fabric() {
    let (plan, work) = sample::inch();
    let text = svg(&plan, &work, &PLAIN);
    let second = r##"points="9,0 15,0 9,6" fill="#f0b286" stroke="#f0b286" data-unit="1.1.1.2" data-kind="big trimmed" data-fabric="B"/>"##;
    assert!(text.contains(second), "{text}");
    let grey = svg(&plan, &work, &Options { greys: true, ..PLAIN });
    assert!(!grey.contains("#f0b286"));
}

#[test]
fn the_png_shows_each_fabric_where_its_patch_is() {
    for (plan, work) in samples() {
        let bytes = png(&plan, &work, &PLAIN).expect("a picture");
        let picture = image::load_from_memory(&bytes).expect("a png").to_rgb8();
        let (width, height) = plan.request.cells();
        assert_eq!(picture.width().max(picture.height()), 1600);
        assert_eq!(picture.width(), (1600.0 * f64::from(width) / f64::from(height)).round() as u32);
        let scale = 1600.0 / f64::from(height);
        for patch in plan.placed().iter().flat_map(|placed| placed.patches()) {
            let n = patch.outline.len() as f64;
            let centre = |side: fn(&(u32, u32)) -> u32| {
                (patch.outline.iter().map(|p| f64::from(side(p))).sum::<f64>() / n * scale) as u32
            };
            let seen = picture.get_pixel(centre(|p| p.0), centre(|p| p.1)).0;
            assert_eq!(seen, plan.fabrics[patch.fabric].colour.0, "{patch:?}");
        }
    }
}

#[test]
fn pictures_of_no_size_or_of_any_size_are_refused() {
    let (plan, work) = sample::inch();
    for pixels in [0, 15, 12_001, u32::MAX] {
        assert!(png(&plan, &work, &Options { pixels, ..PLAIN }).is_err(), "{pixels}");
    }
    assert!(png(&plan, &work, &Options { pixels: 16, ..PLAIN }).is_ok());
}

/// The header's names and every line's fields by name.
fn records(text: &str) -> Vec<std::collections::BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().collect::<Result<_, _>>().expect("a table")
}

#[test]
fn rows_are_written_as_they_are_sewn() {
    let (plan, work) = sample::inch();
    let text = rows_csv(&plan, &work, &PLAIN).expect("a table");
    let header = "record,address,kind,first,second,turn,finished_width_in,finished_height_in,unfinished_width_in,\
                  unfinished_height_in,cut_width_in,cut_height_in,from,strip_in,strip_side,offcut,press,meets,nests,bias,words\n";
    assert!(text.starts_with(header), "{text}");
    let second = "unit,1.1.1.2,big trimmed,A,B,180,6,9,6.5,9.5,,,P1,3,left,,left,0,0,,\
                  \"big unit of dusk violet and peach, dusk violet in the lower right; trimmed: turn it so, then cut 3 in off the left; \
                  press the seam before it to the left, the darker side\"\n";
    assert!(text.contains(second), "{text}");
    let records = records(&text);
    let of = |kind: &str| records.iter().filter(|record| record["record"] == kind).count();
    assert_eq!(of("unit"), plan.placed().len());
    assert_eq!((of("row"), of("column"), of("band"), of("top")), (work.rows.len(), 3, 2, 1));
    let top = records.last().expect("a top");
    assert_eq!((top["finished_width_in"].as_str(), top["unfinished_height_in"].as_str()), ("15", "35.5"));
    let slice = records.iter().find(|record| record["kind"] == "small slice").expect("a slice");
    assert_eq!((slice["strip_in"].as_str(), slice["strip_side"].as_str()), ("2", "right"));
}

#[test]
fn a_row_is_as_wide_as_its_units() {
    for (plan, work) in samples() {
        let text = rows_csv(&plan, &work, &PLAIN).expect("a table");
        let column = format!("finished_width_{}", plan.request.ruler.unit());
        let mut sum = 0;
        for record in records(&text) {
            match record["record"].as_str() {
                "unit" => sum += millionths(&record[&column]),
                "row" => {
                    assert_eq!(sum, millionths(&record[&column]));
                    sum = 0;
                }
                _ => assert_eq!(sum, 0),
            }
        }
    }
}

#[test]
fn spare_row_ends_are_cut_longer() {
    let (plan, work) = sample::metric();
    let text = rows_csv(&plan, &work, &PLAIN).expect("a table");
    let row = records(&text).into_iter().find(|r| r["record"] == "row" && r["address"] == "1.1.2").expect("a row");
    assert_eq!((row["unfinished_width_cm"].as_str(), row["cut_width_cm"].as_str()), ("31.5", "36.5"));
    let words = "\"filler of harbour blue, cut 12 x 23.5 cm, 2.5 cm of it spare at the row's right end; press the seam \
                 before it to the right, the darker side\"";
    assert!(text.contains(words), "{text}");
}

#[test]
fn a_filler_alone_has_its_spare_for_both_ends() {
    let (mut plan, _) = sample::metric();
    let row = &mut plan.bands[0].columns[0].rows[2];
    row.units = vec![Unit { width: 30, piece: Piece::Filler(Print(2)), state: State::Free }];
    let work = make(&plan);
    let words = "filler of harbour blue, cut 34 x 3.5 cm, 2.5 cm of it spare for both ends of the row";
    assert!(rows_csv(&plan, &work, &PLAIN).expect("a table").contains(words));
    let page = build_list(&plan, &work, &PLAIN);
    let row = page.split("id=\"row-1.1.3\"").nth(1).expect("its row");
    assert_eq!(row.matches("class=\"spare\"").count(), 2);
}

#[test]
fn cutting_counts_add_up() {
    for (plan, work) in samples() {
        let text = cutting_csv(&plan, &work, &PLAIN).expect("a table");
        let number = |text: &String| text.parse::<u32>().expect("a count");
        let (mut units, mut lines) = (0, 0);
        for record in records(&text) {
            lines += 1;
            units += match record["record"].as_str() {
                "pair" => {
                    let made = number(&record["count"]) * number(&record["yield"]);
                    assert_eq!(made, number(&record["needed"]) + number(&record["spare"]));
                    number(&record["needed"])
                }
                _ => number(&record["count"]),
            };
        }
        assert_eq!((units as usize, lines), (plan.placed().len(), work.batches.len() + work.fillers.len()));
    }
    let (plan, work) = sample::inch();
    let text = cutting_csv(&plan, &work, &PLAIN).expect("a table");
    assert!(text.contains(",eight,5,10,2,2,1,8,2,6,C\n"), "{text}");
}

#[test]
fn the_page_is_well_formed_and_asks_nothing_of_the_network() {
    for (plan, work) in samples() {
        let page = build_list(&plan, &work, &PLAIN);
        let document = xml(&page);
        for (i, _) in page.match_indices("http") {
            let rest = &page[i..];
            assert!(rest.starts_with("http://www.w3.org/2000/svg\"") || rest.starts_with("http-equiv="), "{rest:.60}");
        }
        for banned in ["src=", "href=", "url(", "@import", "<script", "<link"] {
            assert!(!page.contains(banned), "{banned}");
        }
        let polygons = document.descendants().filter(|node| node.tag_name().name() == "polygon").count();
        assert_eq!(polygons, plan.placed().iter().map(|placed| placed.patches().len()).sum::<usize>());
        let rows: Vec<_> = document.descendants().filter(|node| node.has_tag_name("article")).collect();
        assert_eq!(rows.len(), work.rows.len());
        let text: String = document.descendants().filter_map(|node| node.text()).collect();
        for work in &work.rows {
            assert!(text.contains(&format!("Row {} ", work.address.row_words())));
        }
    }
}

#[test]
fn only_the_methods_used_are_explained() {
    let (plan, work) = sample::inch();
    let page = build_list(&plan, &work, &PLAIN);
    for part in ["Two at a time", "Four at a time", "Eight at a time", "Cut a strip off", "Your seam is 0.26 in"] {
        assert!(page.contains(part) || page.contains(&part.replace("0.26 in", "<span class=\"n\">0.26 in</span>")));
    }
    let (mut plan, _) = sample::metric();
    plan.bands[0].columns[0].rows.truncate(1);
    let page = build_list(&plan, &make(&plan), &PLAIN);
    for part in ["Four at a time", "Eight at a time", "Cut a strip off", "Your seam is"] {
        assert!(!page.contains(part), "{part}");
    }
}

#[test]
fn alike_neighbours_share_a_line() {
    let (plan, work) = sample::metric();
    let page = build_list(&plan, &work, &PLAIN);
    assert!(page.contains("<b>1.1.2.2</b> to <b>1.1.2.3</b>"));
    assert!(page.contains("2 × <span class=\"n\">9</span>"));
}

/// Narrow rows stand two abreast on paper; one that has no neighbour would leave half the sheet empty.
#[test]
fn a_narrow_row_that_stands_alone_takes_the_whole_width() {
    let (mut plan, work) = sample::metric();
    let count = |page: &str, what: &str| page.matches(what).count();
    let page = build_list(&plan, &work, &PLAIN);
    let (rows, narrow) = (work.rows.len(), count(&page, "class=\"row narrow"));
    let groups = count(&page, "class=\"beside\"");
    assert!(groups > 0 && narrow >= 2 * groups);
    assert_eq!(count(&page, "class=\"row wide"), rows - narrow);
    plan.bands[0].columns[0].rows.truncate(1);
    let page = build_list(&plan, &make(&plan), &PLAIN);
    assert!(page.contains("class=\"row wide\"") && !page.contains("class=\"row narrow"));
}

/// Addresses on the map, and each row's place in a thumbnail.
#[test]
fn the_map_names_every_row() {
    for (plan, work) in samples() {
        let page = build_list(&plan, &work, &PLAIN);
        let document = xml(&page);
        let of = |class: &str| {
            document.descendants().filter(|node| node.attribute("class") == Some(class)).collect::<Vec<_>>()
        };
        let names: Vec<_> = of("row-name").iter().filter_map(|node| node.text()).map(str::to_owned).collect();
        let rows: Vec<String> = work.rows.iter().map(|row| row.address.row_words()).collect();
        assert_eq!(names, rows);
        assert_eq!(of("here").len(), rows.len());
    }
}

/// Letters of the maker's title end no string of the style.
#[test]
fn the_foot_holds_any_title() {
    let (mut plan, work) = sample::inch();
    plan.request.title = "dusk\"} </style>\\".into();
    let page = build_list(&plan, &work, &PLAIN);
    assert!(page.contains("content: \"dusk\\22 } \\3c /style>\\5c \""));
    xml(&page);
}

#[test]
fn the_key_shows_what_the_top_shows() {
    let (mut plan, work) = sample::inch();
    let page = build_list(&plan, &work, &PLAIN);
    assert!(page.contains("<b>2.2.2.1</b> is band 2, column 2, row 2, unit 1, the last of all"));
    plan.fabrics.push(Fabric::new("F", "gorse", Rgb([200, 170, 40])));
    assert_eq!(build_list(&plan, &make(&plan), &PLAIN), page);
}

/// A length of 42 x 60 in: what stays of it is told in a table of its own.
#[test]
fn cloth_that_is_left_has_the_whole_width() {
    let (mut plan, _) = sample::inch();
    let lengths = |plan: &Plan| {
        let left = make(plan).leftovers(plan).cloth;
        left.iter().filter(|cloth| cloth.kind == SheetKind::Length).count()
    };
    assert_eq!(lengths(&plan), 0);
    let length = Yardage { width: Length::INCH * 42i64, length: Length::INCH * 60i64 };
    plan.fabrics[Print(3)].supply = Some(Supply { yardage: vec![length], ..Supply::default() });
    assert_eq!(lengths(&plan), 1);
    let page = build_list(&plan, &make(&plan), &PLAIN);
    assert!(page.contains("Cloth left, as cut") && page.contains("class=\"cloth wide\""));
    xml(&page);
}

#[test]
fn the_makers_names_cannot_become_tags() {
    let (mut plan, _) = sample::inch();
    plan.fabrics[Print(0)].name = "<script>alert('x')</script> & \"co\"\u{0}".into();
    plan.fabrics[Print(1)].letter = "<".into();
    plan.request.picture = "a<b>&\".png".into();
    let work = make(&plan);
    let page = build_list(&plan, &work, &PLAIN);
    assert!(!page.contains("<script"));
    assert!(page.contains("&lt;script&gt;alert('x')&lt;/script&gt; &amp; &quot;co&quot;"));
    xml(&page);
    xml(&svg(&plan, &work, &PLAIN));
    let rows = rows_csv(&plan, &work, &PLAIN).expect("a table");
    assert!(records(&rows).iter().any(|record| record["words"].contains("<script>")));
}

#[test]
fn outputs_are_the_same_on_every_run() {
    let (plan, work) = sample::inch();
    assert_eq!(build_list(&plan, &work, &PLAIN), build_list(&plan, &work, &PLAIN));
    assert_eq!(png(&plan, &work, &PLAIN).unwrap(), png(&plan, &work, &PLAIN).unwrap());
}

#[test]
fn a_strip_that_is_used_again_is_named_on_both_sides() {
    let (plan, mut work) = sample::inch();
    let (main, slice) = ("1.1.4.1".parse().unwrap(), "2.1.1.1".parse().unwrap());
    for unit in work.rows.iter_mut().flat_map(|row| &mut row.units) {
        if unit.placed.address == main {
            unit.offcut_to = Some(slice);
        } else if unit.placed.address == slice {
            unit.source = Source::Offcut(main);
        }
    }
    let text = rows_csv(&plan, &work, &PLAIN).expect("a table");
    let records = records(&text);
    let at = |address: &str| records.iter().find(|record| record["address"] == address).expect("a record");
    assert_eq!(at("1.1.4.1")["offcut"], "2.1.1.1");
    assert_eq!(at("2.1.1.1")["from"], "1.1.4.1");
    assert!(at("1.1.4.1")["words"].ends_with("cut 3 in off the bottom; the strip from 1.1.4.1 goes to 2.1.1.1"));
    assert!(at("2.1.1.1")["words"].ends_with("slice: the strip from 1.1.4.1 goes to 2.1.1.1"));
    let page = build_list(&plan, &work, &PLAIN);
    assert_eq!(page.matches("strip from 1.1.4.1 goes to 2.1.1.1.").count(), 2);
    assert!(page.contains("Strips used again"));
}

#[test]
fn rows_that_drift_past_an_eighth_are_warned_of() {
    let (mut plan, _) = sample::inch();
    let warned = |plan: &Plan| build_list(plan, &make(plan), &PLAIN).contains("too much to ease in");
    assert!(!warned(&plan));
    plan.request.seam.measured = Length::inches(29, 100);
    assert!(warned(&plan));
}

#[test]
fn columns_that_drift_apart_in_height_are_named() {
    let (mut plan, _) = sample::inch();
    let page = |plan: &Plan| build_list(plan, &make(plan), &PLAIN);
    assert!(!page(&plan).contains("differ in height"));
    // One row more in a column, of two seams each 1/16 in off.
    plan.request.seam.measured = plan.request.seam.working + Length::inches(1, 16);
    assert!(page(&plan).contains("differ in height by up to <span class=\"n\">1/8 in</span>"));
}
