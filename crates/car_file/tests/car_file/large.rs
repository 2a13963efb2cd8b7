//! Files that are far too large: read in time that grows as they do, and spoken of in few words.

use crate::CAR;
use std::fmt::Write;
use std::time::{Duration, Instant};
use wheelpath_car_file::{LoadError, TableOptions, import_points, parse};

/// The shortest of some runs.
fn time_of(run: impl Fn()) -> Duration {
    let once = || {
        let start = Instant::now();
        run();
        start.elapsed()
    };
    (0..3).map(|_| once()).min().unwrap_or_default()
}

/// What grows sixteenfold takes about sixteen times as long; where it takes 256 times as long each part of
/// it looks at all the others. In between lies what a busy machine adds.
#[track_caller]
fn assert_grows_evenly(input: impl Fn(usize) -> String, read: impl Fn(&str)) {
    let [small, large] = [1000, 16_000].map(&input);
    let [short, long] = [&small, &large].map(|text| time_of(|| read(text)));
    assert!(long < short * 80, "{long:?} after {short:?}");
}

fn refused(text: &str) -> LoadError {
    parse(text, "car.ron").unwrap_err()
}

#[test]
fn many_unknown_keys_take_no_longer_each_than_few() {
    let keys = |count: usize, between: &str| {
        let mut text = CAR.trim_end().trim_end_matches(')').to_owned();
        for n in 0..count {
            let _ = write!(text, "{between}key_{n}: {n}.5,");
        }
        text + ")"
    };
    let read = |text: &str| {
        assert!(refused(text).problems().len() >= 1000);
    };
    assert_grows_evenly(|count| keys(count, "\n"), read);
    assert_grows_evenly(|count| keys(count, " "), read);
    // One known key, given again and again.
    assert_grows_evenly(|count| CAR.replacen("(", &format!("({}", "name: \"\", ".repeat(count)), 1), read);
}

#[test]
fn many_rows_of_a_table_take_no_longer_each_than_few() {
    let car = parse(CAR, "car.ron").unwrap().car;
    let table = |row: &dyn Fn(usize) -> String, count: usize| {
        let mut text = "name,x_mm,y_mm,z_mm\n".to_owned();
        (0..count).for_each(|n| text += &row(n));
        text
    };
    let read = |text: &str| {
        let _ = import_points(&car, text, "points.csv", &TableOptions::default());
    };
    assert_grows_evenly(|count| table(&|n| format!("mesh node {n},1,2,3\n"), count), read);
    assert_grows_evenly(|count| table(&|n| format!("node {n},1,2,three\n"), count), read);
    assert_grows_evenly(|count| table(&|n| format!("front left tie rod inner,1,2,{n}\n"), count), read);
    assert_grows_evenly(|count| table(&|_| "\n# nothing\n".to_owned(), count), read);
}

#[test]
fn of_many_faults_the_first_are_listed_and_the_others_counted() {
    let keys: String = (0..8000).map(|n| format!("key_{n}: 1,\n")).collect();
    let text = CAR.replacen("(", &format!("({keys}"), 1);
    let error = refused(&text);
    assert_eq!(error.problems().len(), 8000);
    let said = error.to_string();
    assert_eq!(said.lines().count(), 101, "fifty, with a hint each");
    assert!(said.ends_with("\nand 7950 more"), "{}", said.lines().last().unwrap_or_default());
}

/// Nothing of fifty million characters is repeated to the user.
#[test]
fn a_line_without_end_is_quoted_in_part() {
    const LONG: usize = 50_000_000;
    let word = "a".repeat(LONG);
    let messages = |error: &LoadError| -> Vec<String> {
        error.problems().iter().flat_map(|p| [p.to_string(), p.hint()]).collect()
    };
    let mut said = Vec::new();
    for text in [
        word.clone(),
        format!("({word}: 1)"),
        format!("({word}: "),
        format!("(format: \"{word}\")"),
        format!("(format: {word})"),
        format!("(format: {word}(1, 2))"),
        CAR.replacen("units: Millimetre", &format!("units: {word}"), 1),
        CAR.replacen("(", &format!("({word}: 1, "), 1),
    ] {
        said.extend(messages(&refused(&text)));
    }
    let car = parse(CAR, "car.ron").unwrap().car;
    for table in [
        word.clone(),
        format!("# units: {word}\nname,x,y,z\n"),
        format!("# axes: {word}\nname,x,y,z\n"),
        format!("name,x,y,{word}\n"),
        format!("name,x_mm,y_mm{}\n", ",column".repeat(LONG / 50)),
        format!("name,x_mm,y_mm,z_mm\n{word},1,2,three\n"),
        format!("name,x_mm,y_mm,z_mm\ntie_rod_inner,1,2,{word}\n"),
        format!("name,x_mm,y_mm,z_mm\ntie_rod_inner,1,2\n\"{word}"),
        format!("name,corner,x_mm,y_mm,z_mm\ntie_rod_inner,{word},1,2,3\n"),
    ] {
        match import_points(&car, &table, "points.csv", &TableOptions::default()) {
            Err(error) => said.extend(messages(&error)),
            Ok(imported) => said.extend(imported.unknown.iter().map(ToString::to_string)),
        }
    }
    assert!(said.len() > 30);
    for one in said {
        assert!(one.chars().count() < 600, "{} characters: {}", one.len(), &one[..200]);
    }
}

/// Messages and hints are in a user's words: no library speaks, and no control character does.
#[test]
fn no_library_speaks_to_the_user() {
    let deep = |open: &str, close: &str| {
        CAR.replacen("(", &format!("(a: {}1{}, ", open.repeat(300), close.repeat(300)), 1)
    };
    let value = |value: &str| CAR.replacen("(", &format!("(name: {value}, "), 1);
    let mut texts: Vec<String> =
        ["", "(", ")", "(a", "(a:", "(a: 1", "[", "[1", "{", "{1: 2", "\"", "r#\"a\"", "/*", "//"]
            .map(str::to_owned)
            .to_vec();
    texts.extend([deep("(", ")"), deep("[", "]"), deep("A(", ")"), deep("Some(", ")")]);
    for one in [
        "'a'",
        "'",
        "b'a'",
        "b\"a\"",
        "\"\\q\"",
        "\"\\u{110000}\"",
        "\"\\xZZ\"",
        "1__0",
        "_1",
        "0b2",
        "0x",
        "1e",
        "--1",
        "1u8",
        "300u8",
        "#",
        "#![enable(implicit_some)]",
        "@",
        "{1: 2}",
        "Some(1)",
        "()",
        "\u{1b}[31m",
        "\u{202e}",
        "99999999999999999999999999999999999999999999",
        "1..2",
        "r#type",
        "r##\"x\"##",
        "inf",
        "-NaN",
        "true",
    ] {
        texts.push(value(one));
    }
    texts.push(format!("#![enable(unheard_of)]\n{CAR}"));
    texts.push(format!("{CAR} more"));
    let strange = [
        "recursion",
        "serde",
        "RON",
        "ron::",
        "struct",
        "identifier",
        "enum",
        "variant",
        "float",
        "integer",
        "char ",
        "utf8",
        "Utf8",
        "std ",
        "Option",
        "IgnoredAny",
        "os error",
        "csv",
        "whitespace",
        "`#![",
        "EOF",
        "parse",
    ];
    let mut refusals = 0;
    for text in &texts {
        let Err(error) = parse(text, "car.ron") else { continue };
        refusals += 1;
        for problem in error.problems() {
            let said = format!("{problem}\n{}", problem.hint());
            assert!(!strange.iter().any(|word| said.contains(word)), "{said}");
            assert!(said.chars().all(|c| c == '\n' || !wheelpath_geometry::acts(c)), "{said:?}");
        }
    }
    assert!(refusals > 40, "{refusals}");
}
