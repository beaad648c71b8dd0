//! The written page: its words, and which of them were held against something.

use std::cell::RefCell;
use std::collections::BTreeSet;

use resvg::usvg::roxmltree::{Document, Node, ParsingOptions};

use crate::proof::fault::{Fault, short};

/// Attributes that are shown or read aloud.
const SHOWN: [&str; 4] = ["aria-label", "data-label", "title", "alt"];

/// A page, and the texts of it that were read.
pub struct Page<'a> {
    document: Document<'a>,
    read: RefCell<BTreeSet<u32>>,
}

pub fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("build-list.html", what)
}

pub fn collapsed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The parts of a text that hold a digit, without what stands around them.
pub fn figures(text: &str) -> String {
    let parts = text.split_whitespace().filter(|part| part.contains(|c: char| c.is_ascii_digit()));
    parts.map(|part| part.trim_matches(|c: char| !c.is_alphanumeric() && c != '-')).collect::<Vec<_>>().join(" ")
}

pub fn has_class(node: &Node, class: &str) -> bool {
    node.attribute("class").is_some_and(|classes| classes.split(' ').any(|one| one == class))
}

pub fn of_class<'a, 'b>(node: Node<'a, 'b>, class: &'static str) -> impl Iterator<Item = Node<'a, 'b>> {
    node.descendants().filter(move |node| has_class(node, class))
}

pub fn of_tag<'a, 'b>(node: Node<'a, 'b>, tag: &'static str) -> impl Iterator<Item = Node<'a, 'b>> {
    node.descendants().filter(move |node| node.has_tag_name(tag))
}

/// A number of an element's attribute.
pub fn number(node: Node, name: &str) -> f64 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or(0.0)
}

impl<'a> Page<'a> {
    pub fn parse(text: &'a str) -> Result<Self, Fault> {
        let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
        let document = Document::parse_with_options(text, options);
        let document = document.map_err(|error| fault(format!("it cannot be read: {error}")))?;
        Ok(Self { document, read: RefCell::default() })
    }

    pub fn root(&self) -> Node<'_, 'a> {
        self.document.root()
    }

    /// The section of a name, or the whole page where there is none.
    pub fn section(&self, id: &str) -> Option<Node<'_, 'a>> {
        of_tag(self.root(), "section").find(|node| node.attribute("id") == Some(id))
    }

    /// The words of an element, one space between them, as read; whoever asks holds them against something.
    pub fn words(&self, node: Node) -> String {
        let mut words = String::new();
        for part in node.descendants() {
            match part.is_text() {
                true => {
                    words.push_str(part.text().unwrap_or_default());
                    self.read.borrow_mut().insert(part.id().get());
                }
                false if part.has_tag_name("br") => words.push(' '),
                false => {}
            }
        }
        collapsed(&words)
    }

    /// Whether an element's words are those that are due.
    pub fn same(&self, node: Node, at: &str, what: &str, due: &str) -> Result<(), Fault> {
        same(at, what, &self.words(node), due)
    }

    /// Whether the numbers in an element's words are those in the text that is due.
    pub fn figures(&self, node: Node, what: &str, due: &str) -> Result<(), Fault> {
        let (written, due) = (figures(&self.words(node)), figures(due));
        match written == due {
            true => Ok(()),
            false => Err(fault(format!("{what} has the numbers `{}`, not `{}`", short(&written), short(&due)))),
        }
    }

    /// Whether an element's words begin as is due, and hold no number after that.
    pub fn begins(&self, node: Node, what: &str, due: &str, names: &[String]) -> Result<(), Fault> {
        let written = self.words(node);
        let mut rest = written.strip_prefix(&collapsed(due)).map(str::to_owned);
        for name in names {
            rest = rest.map(|rest| rest.replace(name.as_str(), ""));
        }
        match rest.filter(|rest| !rest.contains(|c: char| c.is_ascii_digit())) {
            Some(_) => Ok(()),
            None => Err(fault(format!("{what} says `{}`, and is to begin `{}`", short(&written), short(due)))),
        }
    }

    /// Every line of the tables of a class, cell by cell; a cell that is to be ticked has no words.
    pub fn table(&self, class: &'static str, due: impl IntoIterator<Item = Vec<String>>) -> Result<(), Fault> {
        let tables = of_tag(self.root(), "table").filter(|table| has_class(table, class));
        let mut lines = tables.flat_map(|table| of_tag(table, "tr").skip(1));
        for due in due {
            let name = due.first().cloned().unwrap_or_default();
            let line = lines.next().ok_or_else(|| fault(format!("{name} is missing in its table of {class}")))?;
            let cells: Vec<Node> = line.children().filter(|node| node.has_tag_name("td")).collect();
            if cells.len() != due.len() {
                return Err(fault(format!("the line of {name} has {} cells", cells.len())));
            }
            for (cell, due) in cells.into_iter().zip(&due) {
                self.same(cell, &name, cell.attribute("data-label").unwrap_or("cell"), due)?;
            }
        }
        lines.next().map_or(Ok(()), |_| Err(fault(format!("there is a line too many in its table of {class}"))))
    }

    /// Whether the label of a drawing, which is read aloud, is the one that is due.
    pub fn label(&self, node: Node, at: &str, due: &str) -> Result<(), Fault> {
        self.read.borrow_mut().insert(node.id().get());
        same(at, "drawing's label", node.attribute("aria-label").unwrap_or_default(), due)
    }

    /// No number is left that was held against nothing.
    pub fn all_read(&self) -> Result<(), Fault> {
        let read = self.read.borrow();
        let digit = |text: &str| text.contains(|c: char| c.is_ascii_digit());
        let body = of_tag(self.root(), "body").flat_map(|body| body.descendants());
        for node in body.filter(|node| !read.contains(&node.id().get())) {
            let shown = SHOWN.iter().filter_map(|name| node.attribute(*name));
            let text = if node.is_text() { node.text() } else { None };
            if let Some(text) = text.into_iter().chain(shown).find(|text| digit(text)) {
                return Err(fault(format!("nothing that was written says `{}`", short(text.trim()))));
            }
        }
        Ok(())
    }
}

pub fn same(at: &str, what: &str, written: &str, due: &str) -> Result<(), Fault> {
    match written == collapsed(due) {
        true => Ok(()),
        false => {
            let what = format!("in build-list.html its {what} says `{}`, not `{}`", short(written), short(due));
            Err(Fault::new(at, what))
        }
    }
}
