//! What `check` finds of the numbers that a tired person types.

mod kinds;
mod matters;
mod numbers;

use kinds::{Blunder, Kind, blunders};
use matters::{Matter, Signature};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use wheelpath_car_file::parse;
use wheelpath_tests::demo::CARS;

fn text_of(car: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(car)).unwrap()
}

/// How a blunder comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    Caught,
    Missed,
    /// No reading changes by as much as anyone would notice, or it is a car as plausible as the first.
    Little,
    Nothing,
}

/// `before` is what is said of the sound car: that catches nothing.
fn outcome(blunder: &Blunder, sound: &Signature, before: &[String]) -> Outcome {
    let (caught, signature) = match parse(&blunder.text, "car") {
        Err(_) => return Outcome::Caught,
        Ok(loaded) => {
            let is_new = |words: String| !before.contains(&words);
            (loaded.warnings.iter().map(|one| one.fault.to_string()).any(is_new), Signature::of(&loaded.car))
        }
    };
    match matters::matter(sound, &signature, &blunder.number, blunder.wrong) {
        Matter::Nothing => Outcome::Nothing,
        Matter::Little => Outcome::Little,
        Matter::Much if caught => Outcome::Caught,
        Matter::Much => Outcome::Missed,
    }
}

#[derive(Default)]
struct Counts {
    caught: usize,
    missed: usize,
    little: usize,
    nothing: usize,
}

impl Counts {
    fn add(&mut self, outcome: Outcome) {
        match outcome {
            Outcome::Caught => self.caught += 1,
            Outcome::Missed => self.missed += 1,
            Outcome::Little => self.little += 1,
            Outcome::Nothing => self.nothing += 1,
        }
    }

    fn share(&self) -> f64 {
        self.caught as f64 / (self.caught + self.missed).max(1) as f64
    }

    fn line(&self, name: &str) -> String {
        let Counts { caught, missed, little, nothing } = self;
        let share = self.share() * 100.0;
        format!("{name:44} {caught:6} {missed:6} {share:6.1} % {little:8} {nothing:8}")
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
        let before: Vec<String> = sound.warnings.iter().map(|one| one.fault.to_string()).collect();
        let all = blunders(&text);
        let next = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..std::thread::available_parallelism().map_or(2, usize::from) {
                scope.spawn(|| {
                    while let Some(blunder) = all.get(next.fetch_add(1, Ordering::Relaxed)) {
                        let outcome = outcome(blunder, &signature, &before);
                        by_kind.lock().unwrap().entry(blunder.kind).or_default().add(outcome);
                        by_car.lock().unwrap().entry(car).or_default().add(outcome);
                        if outcome == Outcome::Missed {
                            let Blunder { number, wrong, kind, .. } = blunder;
                            let keys = number.keys.join(".");
                            let nth = number
                                .triple
                                .map_or(String::new(), |(_, nth)| ["x", "y", "z"][nth].to_owned());
                            let line =
                                format!("{car} {keys} {nth} {} -> {wrong} ({})", number.value, kind.name());
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
    println!("{:44} {:>6} {:>6} {:>8} {:>8} {:>8}", "", "caught", "missed", "share", "little", "nothing");
    let mut total = Counts::default();
    for (kind, counts) in by_kind.lock().unwrap().iter() {
        println!("{}", counts.line(kind.name()));
        total.caught += counts.caught;
        total.missed += counts.missed;
        total.little += counts.little;
        total.nothing += counts.nothing;
    }
    for (car, counts) in by_car.lock().unwrap().iter() {
        println!("{}", counts.line(car));
    }
    println!("{}", total.line("all"));
    assert!(total.share() >= 0.95, "{:.1} %", total.share() * 100.0);
}

#[test]
fn the_shipped_cars_have_no_warning() {
    for car in CARS {
        let loaded = parse(&text_of(car), car).unwrap();
        let words: Vec<String> = loaded.warnings.iter().map(ToString::to_string).collect();
        assert!(words.is_empty(), "{}", words.join("\n"));
    }
}
