//! What `check` finds of the numbers that a tired person types.

mod kinds;
mod leads;
mod matters;
mod numbers;
#[expect(dead_code, reason = "the properties use more of it")]
#[path = "../properties/random_car.rs"]
mod random_car;
mod sound;
mod words;

use kinds::{Blunder, Kind, blunders};
use leads::{leads_to, names_first};
use matters::{Matter, Signature};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use wheelpath_car_file::{LoadError, Problem, parse};
use wheelpath_geometry::Car;
use wheelpath_tests::demo::CARS;

fn text_of(car: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(car)).unwrap()
}

/// How a blunder comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    /// And what is said first points to the number itself.
    Named,
    /// What is said leads to the number, among others.
    Caught,
    Missed,
    /// No reading changes by as much as anyone would notice, or it is a car as plausible as the first.
    Little,
    Nothing,
}

/// What is said of a file: the faults that keep it from being read, or the warnings.
fn said(text: &str) -> (Vec<Problem>, Option<Car>) {
    match parse(text, "car") {
        Ok(loaded) => (loaded.warnings, Some(loaded.car)),
        Err(LoadError::Faulty(problems)) => (problems, None),
        Err(error) => panic!("{error}"),
    }
}

/// What is said of a problem without its numbers: a warning that the sound car has too, by another number, is not
/// new.
fn kind_of(problem: &Problem) -> String {
    problem.fault.to_string().chars().filter(|c| !c.is_ascii_digit() && !matches!(c, '.' | '-')).collect()
}

/// A blunder is caught by what is said of the damaged file, is not said of the sound one (`before`), and leads to
/// the number. With it comes what is said first of what is new, for who looks into a miss.
fn outcome(blunder: &Blunder, sound: &Signature, before: &[String]) -> (Outcome, String) {
    let (problems, car) = said(&blunder.text);
    let new: Vec<&Problem> = problems.iter().filter(|one| !before.contains(&kind_of(one))).collect();
    let caught = new.iter().any(|one| leads_to(one, &blunder.number, &blunder.text));
    let is_named_first = new.first().is_some_and(|one| names_first(one, &blunder.number, &blunder.text));
    let first = new.first().map_or(String::new(), |one| one.fault.to_string());
    let matter = car.map_or(Matter::Much, |car| {
        matters::matter(sound, &Signature::of(&car), &blunder.number, blunder.wrong)
    });
    let outcome = match matter {
        Matter::Nothing => Outcome::Nothing,
        Matter::Little => Outcome::Little,
        Matter::Much if caught && is_named_first => Outcome::Named,
        Matter::Much if caught => Outcome::Caught,
        Matter::Much => Outcome::Missed,
    };
    (outcome, first)
}

#[derive(Default)]
struct Counts {
    caught: usize,
    /// Of those caught.
    named: usize,
    missed: usize,
    little: usize,
    nothing: usize,
}

impl Counts {
    fn add(&mut self, outcome: Outcome) {
        match outcome {
            Outcome::Named => {
                self.caught += 1;
                self.named += 1;
            }
            Outcome::Caught => self.caught += 1,
            Outcome::Missed => self.missed += 1,
            Outcome::Little => self.little += 1,
            Outcome::Nothing => self.nothing += 1,
        }
    }

    fn share(&self) -> f64 {
        self.caught as f64 / (self.caught + self.missed).max(1) as f64
    }

    fn named_share(&self) -> f64 {
        self.named as f64 / (self.caught + self.missed).max(1) as f64
    }

    fn line(&self, name: &str) -> String {
        let Counts { caught, missed, little, nothing, .. } = self;
        let share = self.share() * 100.0;
        let named = self.named_share() * 100.0;
        format!("{name:44} {caught:6} {missed:6} {share:6.1} % {named:6.1} % {little:8} {nothing:8}")
    }
}

#[test]
fn blunders_are_found() {
    let by_kind = Mutex::new(BTreeMap::<Kind, Counts>::new());
    let by_car = Mutex::new(BTreeMap::<&str, Counts>::new());
    let missed = Mutex::new(Vec::new());
    for car in CARS {
        let text = text_of(car);
        let sound = parse(&text, car).unwrap();
        let signature = Signature::of(&sound.car);
        let before: Vec<String> = sound.warnings.iter().map(kind_of).collect();
        let all = blunders(&text);
        let next = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..std::thread::available_parallelism().map_or(2, usize::from) {
                scope.spawn(|| {
                    while let Some(blunder) = all.get(next.fetch_add(1, Ordering::Relaxed)) {
                        let (outcome, first) = outcome(blunder, &signature, &before);
                        by_kind.lock().unwrap().entry(blunder.kind).or_default().add(outcome);
                        by_car.lock().unwrap().entry(car).or_default().add(outcome);
                        if outcome == Outcome::Missed {
                            let Blunder { number, wrong, kind, .. } = blunder;
                            let keys = number.keys.join(".");
                            let nth = number
                                .triple
                                .map_or(String::new(), |(_, nth)| ["x", "y", "z"][nth].to_owned());
                            let line = format!(
                                "{car} {keys} {nth} {} -> {wrong} ({}) {first}",
                                number.value,
                                kind.name()
                            );
                            missed.lock().unwrap().push(line);
                        }
                    }
                });
            }
        });
    }
    let mut missed = missed.into_inner().unwrap();
    missed.sort();
    missed.iter().for_each(|line| println!("missed: {line}"));
    println!(
        "{:44} {:>6} {:>6} {:>8} {:>8} {:>8} {:>8}",
        "", "caught", "missed", "share", "first", "little", "nothing"
    );
    let mut total = Counts::default();
    for (kind, counts) in by_kind.lock().unwrap().iter() {
        println!("{}", counts.line(kind.name()));
        total.caught += counts.caught;
        total.named += counts.named;
        total.missed += counts.missed;
        total.little += counts.little;
        total.nothing += counts.nothing;
    }
    for (car, counts) in by_car.lock().unwrap().iter() {
        println!("{}", counts.line(car));
    }
    println!("{}", total.line("all"));
    assert!(total.share() >= 0.965, "{:.1} %", total.share() * 100.0);
    // What is said first, cause by cause, points to the number itself.
    assert!(total.named_share() >= 0.765, "{:.1} %", total.named_share() * 100.0);
    for (kind, counts) in by_kind.lock().unwrap().iter() {
        assert!(counts.share() >= kind.least(), "{}: {:.1} %", kind.name(), counts.share() * 100.0);
    }
}

/// At most one warning too many on all the shipped cars together.
#[test]
fn the_shipped_cars_have_no_warning() {
    let mut words = Vec::new();
    for car in CARS {
        let loaded = parse(&text_of(car), car).unwrap();
        words.extend(loaded.warnings.iter().map(ToString::to_string));
    }
    assert!(words.is_empty(), "{}", words.join("\n"));
}
