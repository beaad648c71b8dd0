//! What a page is told.

use rowscape::answer::{Answer, Changes, Likeness, Scene};
use rowscape::fabric::{Fabric, Stash, StashError};
use rowscape::job::{
    Candidate, Found, JobError, Rates, Swatch, Twin, as_png, audition, changes, compose, estimate, files, group,
    look_through, one_more, packets, remedy, revise, sizes, stash_of, swatches, ticked, twice, work,
};
use rowscape::measure::{Length, Price};
use rowscape::plan::{Plan, read};
use rowscape::render::{
    Options, Prices, build_list, buy_words, cost, doubts, near_words, one_more_words, remedy_words, units_words,
};
use rowscape::watch::Watch;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plain::plain;
use crate::question::{Composing, Estimating, Listing, Measured, Question, Revising, SizesAsked, Trying};
use crate::refusal::Refusal;
use crate::steps::{self, Steps};

/// What comes beside a question.
pub struct Given<'a> {
    /// The picture, as a file's bytes.
    pub picture: Option<&'a [u8]>,
    /// The picture that says what is to be finer.
    pub mask: Option<&'a [u8]>,
    /// Who follows.
    pub watch: &'a Watch,
}

/// A reply; the bytes of files come beside it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "camelCase")]
#[schemars(title = "Rowscape reply")]
pub enum Reply {
    /// A scene.
    Scene(Box<Shown>),
    /// What it takes, and what each unit is.
    Work(Takes),
    /// A text: a list, a stash, a plan.
    Text(String),
    /// Width and height of a picture.
    Picture([u32; 2]),
    /// Names of files, in the order of their bytes.
    Files(Vec<String>),
    /// A stash.
    Stash(Held),
    /// The prints of a photo.
    Swatches(Seen),
    /// Swatches that look like one fabric.
    Twice(Vec<Twin>),
    /// A scene in several stashes.
    Trial(Vec<Tried>),
    /// What squares give.
    Sizes(Vec<Gives>),
    /// The work step by step.
    Steps(Steps),
    /// Time and cost.
    Estimate(Reckoned),
}

/// A scene, and what is said of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Shown {
    /// The scene with its figures.
    pub answer: Answer,
    /// How near it comes to its picture, in words.
    pub near: String,
    /// What is to be doubted.
    pub doubts: Vec<String>,
    /// What changed from the scene before.
    pub changes: Option<Changes>,
    /// The size as it is shown: width and height.
    pub size: [String; 2],
}

/// How long a scene takes, and what it costs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reckoned {
    /// Each part of the work by name, with its seconds.
    pub parts: Vec<(String, u64)>,
    /// The rates that it is reckoned by.
    pub rates: Rates,
    /// What is bought, with its price where all of it has one.
    pub lines: Vec<(String, Option<String>)>,
    /// All that has a price.
    pub sum: Option<String>,
    /// Whether something has none.
    pub open: bool,
    /// Prices that were not understood, or are not written like the others.
    pub unread: Vec<String>,
}

/// What a scene takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Takes {
    /// What is bought of each fabric.
    pub buy: Vec<Buy>,
    /// Squares that are cut or bought, in all.
    pub squares: u32,
    /// Pairs of squares.
    pub pairs: u32,
    /// Each unit in words, by its address.
    pub units: Vec<(String, String)>,
}

/// What is bought of a fabric.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Buy {
    /// Its letter.
    pub letter: String,
    /// Squares and lengths, as a shop has them.
    pub words: Vec<String>,
}

/// What a stash holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Held {
    /// Its fabrics.
    pub fabrics: Vec<Fabric>,
    /// How many pieces it has on hand.
    pub on_hand: usize,
    /// Its text, with families where they were asked for.
    pub text: String,
    /// What is doubtful.
    pub notes: Vec<String>,
}

/// The prints of a photo, and in words why each is not more certain.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Seen {
    /// Them.
    pub found: Found,
    /// What is doubtful of each and what to do, the worst first.
    pub doubts: Vec<Vec<String>>,
}

/// A trial.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tried {
    /// Its place, 1 being best.
    pub rank: usize,
    /// What its stash is called.
    pub name: String,
    /// The scene.
    pub plan: Plan,
    /// How near it comes.
    pub likeness: Likeness,
    /// Why it stands there, and what is short.
    pub why: Vec<String>,
}

/// What a square gives.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Gives {
    /// Side of the square.
    pub cut: String,
    /// Big, small or mini.
    pub size: String,
    /// How it is sewn.
    pub method: String,
    /// Finished side of the unit.
    pub finished: String,
    /// What it is trimmed to.
    pub trimmed: String,
}

type Bytes = Vec<Vec<u8>>;

/// Answers a question in JSON with JSON and the bytes of files.
pub fn reply(question: &str, given: &Given) -> Result<(String, Bytes), Refusal> {
    let question: Question = serde_json::from_str(question).map_err(|error| Refusal::unread(&error))?;
    let (reply, bytes) = answer(question, given)?;
    let json = serde_json::to_string(&reply).map_err(|error| Refusal::unread(&error))?;
    Ok((json, bytes))
}

fn answer(question: Question, given: &Given) -> Result<(Reply, Bytes), Refusal> {
    let reply = match question {
        Question::Compose(composing) => composed(*composing, given)?,
        Question::Picture(side) => {
            let (bytes, sides) = as_png(given.picture.unwrap_or_default(), side)?;
            return Ok((Reply::Picture(sides), vec![bytes]));
        }
        Question::Open(text) => shown(opened(&text)?, None),
        Question::Revise(revising) => revised(*revising, given)?,
        Question::Work(plan) => Reply::Work(takes(&plan)),
        Question::List(listing) => Reply::Text(build_list(&listing.plan, &work(&listing.plan), &options(&listing))),
        Question::Files(listing) => {
            let made = files(&listing.plan, &options(&listing), given.watch)?;
            let (names, bytes) = made.files.into_iter().map(|file| (file.name, file.bytes)).unzip();
            return Ok((Reply::Files(names), bytes));
        }
        Question::Packets(listing, sewers) => {
            let shared = packets(&listing.plan, sewers, &options(&listing), given.watch)?;
            let (names, bytes) = shared.files.into_iter().map(|file| (file.name, file.bytes)).unzip();
            return Ok((Reply::Files(names), bytes));
        }
        Question::Stash(text) => Reply::Stash(held(text)?),
        Question::WriteStash(plan) => Reply::Text(plan.stash().write()),
        Question::WriteFabrics(fabrics) => Reply::Text(written(fabrics, None)),
        Question::Swatches(asked) => {
            let found = swatches(given.picture.unwrap_or_default(), &asked)?;
            let words = |swatch: &Swatch| swatch.doubts.iter().map(|doubt| doubt.words().to_owned()).collect();
            Reply::Swatches(Seen { doubts: found.swatches.iter().map(words).collect(), found })
        }
        Question::Twice(photos) => Reply::Twice(twice(&photos)),
        Question::Gather(gathering) => {
            let text = stash_of(&gathering).map_err(|error| Refusal::from(JobError::Stash(0, Box::new(error))))?;
            Reply::Stash(held(text)?)
        }
        Question::Group(text) => {
            let proposed = group(&text).map_err(|error| in_line(error, &text))?;
            Reply::Stash(held(proposed.text)?)
        }
        Question::Trial(trying) => Reply::Trial(tried(&trying, given)?),
        Question::Sizes(asked) => Reply::Sizes(gives(&asked)?),
        Question::Remedy(asked) => Reply::Text(advised(&asked)?),
        Question::Estimate(asked) => Reply::Estimate(reckoned(&asked)),
        Question::Steps(plan) => Reply::Steps(steps::shown(&plan)),
        Question::OneMore(plan) => {
            let found = one_more(&plan, given.watch)?;
            Reply::Text(one_more_words(&found, plan.request.ruler))
        }
    };
    Ok((reply, Bytes::new()))
}

fn options(listing: &Listing) -> Options {
    let mut options = Options::default();
    (options.large_map, options.greys) = (listing.large_map, listing.greys);
    options
}

fn shown(scene: Scene, changes: Option<Changes>) -> Reply {
    let answer = Answer::from(scene);
    let request = &answer.plan.request;
    let near = &answer.figures.likeness;
    Reply::Scene(Box::new(Shown {
        near: near_words(near).to_owned(),
        doubts: doubts(&answer.plan, answer.figures.gaps.as_ref(), near).iter().map(|doubt| plain(doubt)).collect(),
        size: [request.width, request.height].map(|side| request.ruler.show(side)),
        changes,
        answer,
    }))
}

fn composed(composing: Composing, given: &Given) -> Result<Reply, Refusal> {
    let Composing { mut brief, fabrics, held } = composing;
    if let Some(fabrics) = fabrics {
        brief.stash = Some(written(fabrics, brief.stash.as_deref()));
    } else if !held.is_empty() {
        brief.held = Some(written(held, None));
    }
    let scene = compose(&brief, given.picture.unwrap_or_default(), given.mask, given.watch);
    Ok(shown(scene.map_err(|error| in_stash(error, brief.stash.as_deref().or(brief.held.as_deref())))?, None))
}

fn advised(asked: &Measured) -> Result<String, Refusal> {
    let Measured { plan, at, measures } = asked;
    let found = remedy(plan, *at, *measures)?;
    Ok(plain(&remedy_words(&found, *at, plan.request.ruler)))
}

/// A stash of these fabrics; what is on hand comes from the old one, where the letters of its fabrics are the same.
fn written(fabrics: Vec<Fabric>, old: Option<&str>) -> String {
    let old = old.and_then(|text| Stash::read(text).ok());
    let hand = old.filter(|old| old.prints.iter().map(|fabric| &fabric.letter).eq(fabrics.iter().map(|f| &f.letter)));
    Stash { prints: fabrics.into(), hand: hand.map(|old| old.hand).unwrap_or_default() }.write()
}

fn opened(text: &str) -> Result<Scene, Refusal> {
    Ok(read(text).map_err(JobError::from)?.into())
}

fn revised(revising: Revising, given: &Given) -> Result<Reply, Refusal> {
    let Revising { plan, mut change, ticks } = revising;
    change.changes.splice(0..0, ticked(&plan, &ticks));
    let scene = revise(&plan, &change, given.picture, given.mask, given.watch);
    let scene = scene.map_err(|error| in_stash(error, change.stash.as_deref()))?;
    let changes = changes(&plan, &scene.plan, &work(&scene.plan));
    Ok(shown(scene, Some(changes)))
}

fn takes(plan: &Plan) -> Takes {
    let work = work(plan);
    let buy = buy_words(plan, &work).into_iter().map(|(letter, words)| Buy { letter, words });
    Takes {
        buy: buy.collect(),
        squares: work.squares().iter().map(|squares| squares.bought()).sum(),
        pairs: work.batches.iter().map(|batch| batch.pairs).sum(),
        units: units_words(plan, &work).into_iter().map(|(at, words)| (at.to_string(), words)).collect(),
    }
}

fn held(text: String) -> Result<Held, Refusal> {
    let looked = look_through(&text).map_err(|error| in_line(error, &text))?;
    let Stash { prints, hand } = looked.stash;
    Ok(Held {
        fabrics: prints.raw,
        on_hand: hand.units.len() + hand.slices.len() + hand.fillers.len(),
        notes: looked.notes.iter().map(ToString::to_string).collect(),
        text,
    })
}

fn tried(trying: &Trying, given: &Given) -> Result<Vec<Tried>, Refusal> {
    let candidates: Vec<Candidate> = trying.stashes.iter().map(|(name, stash)| Candidate { name, stash }).collect();
    let tried = audition(&trying.plan, &candidates, trying.afresh, given.watch)?;
    let tried = tried.audition.entries.into_iter().map(|entry| Tried {
        rank: entry.rank,
        name: entry.name,
        plan: entry.plan,
        likeness: entry.likeness,
        why: entry.why,
    });
    Ok(tried.collect())
}

fn reckoned(asked: &Estimating) -> Reckoned {
    let rates = asked.rates.unwrap_or_default();
    let all = asked.prices.iter().enumerate().map(|(at, text)| (None, at, text));
    let own = asked
        .fabrics
        .iter()
        .flat_map(|(letter, texts)| texts.iter().enumerate().map(move |(at, text)| (Some(letter.as_str()), at, text)));
    let given = all.chain(own).filter(|(.., text)| !text.trim().is_empty());
    let read: Vec<_> = given.map(|(letter, at, text)| (letter, at, text, text.parse::<Price>().ok())).collect();
    let form = |whole: bool| {
        read.iter().filter_map(|(.., price)| price.as_ref()).find(|price| whole || price.has_hundredths())
    };
    let form = form(false).or(form(true));
    let (mut prices, mut unread) = (Prices::default(), Vec::new());
    for (letter, at, text, price) in &read {
        match price.as_ref().zip(form).and_then(|(price, form)| price.like(form)) {
            Some(price) => prices.set(*letter, *at, price),
            None => unread.push((*text).clone()),
        }
    }
    let parts = estimate(&asked.plan).map(|(name, effort)| (name.to_owned(), effort.seconds(&rates)));
    let cost = cost(&asked.plan, &prices);
    Reckoned {
        parts: parts.into(),
        rates,
        lines: cost.lines.into_iter().map(|(name, price)| (name, price.map(|price| price.to_string()))).collect(),
        sum: cost.sum.map(|sum| sum.to_string()),
        open: cost.open,
        unread,
    }
}

fn gives(asked: &SizesAsked) -> Result<Vec<Gives>, Refusal> {
    let (vocabulary, _) = sizes(&asked.sizes, asked.ruler)?;
    let show = |length: Length| asked.ruler.show(length);
    let gives = vocabulary.blocks.iter().map(|block| Gives {
        cut: show(block.square.cut),
        size: block.at_a_time.size().to_owned(),
        method: block.at_a_time.words().to_owned(),
        finished: show(block.finished),
        trimmed: show(block.trimmed),
    });
    Ok(gives.collect())
}

fn in_line(error: StashError, text: &str) -> Refusal {
    let at = error.span.as_ref().map(|span| span.start);
    Refusal::from(JobError::Stash(0, Box::new(error))).in_text(at, text)
}

fn in_stash(error: JobError, text: Option<&str>) -> Refusal {
    match (error, text) {
        (JobError::Stash(_, error), Some(text)) => in_line(*error, text),
        (error, _) => error.into(),
    }
}
