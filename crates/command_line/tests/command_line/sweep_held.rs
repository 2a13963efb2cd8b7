//! What is held while a sweep runs stands over its table, chart and figure: no column and no axis tells it.

use crate::support::fine;

/// The first lines of a table or chart, or the title of a figure.
fn heading(words: &str) -> String {
    let text = fine(words);
    match text.split_once("<title>") {
        Some((_, after)) => after.split("</title>").next().unwrap().to_owned(),
        None => text
            .lines()
            .take(2)
            .collect::<Vec<_>>()
            .join(" ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" "),
    }
}

#[test]
fn what_is_held_stands_in_the_heading() {
    let check = |words: &str, held: &str| {
        for format in ["table", "chart", "svg"] {
            let found = heading(&format!("sweep {words} --readings toe --format {format}"));
            assert!(found.contains(held), "{words} --format {format}: {found}");
        }
    };
    check("alder --travel-mm -10:10 --rack-mm 15", ", at rack 15.0 mm");
    check("alder --travel-mm -10,10 --units inch --rack-mm 25.4", ", at rack 1.000 in");
    check("alder --over roll --rack-mm -15", ", at rack −15.0 mm");
    check("alder --over steer --travel-mm 20", ", at wheel travel 20.0 mm");
    check(
        "alder --over steer --left-travel-mm 20 --right-travel-mm -5",
        ", at left wheel travel 20.0 mm, right wheel travel −5.0 mm",
    );
    check("hazel --travel-mm -10:10 --pitman-deg 5", ", at pitman arm 5.00°");
    check("alder --travel-mm -10:10 --steering-wheel-deg 90", ", at rack ");
}

/// What is zero, or has a column or an axis of its own, is not said again.
#[test]
fn what_is_told_already_is_not_held() {
    for words in [
        "alder --travel-mm -10:10",
        "alder --over steer",
        "alder --travel-mm -10:10 --rack-mm 0",
        "alder --travel-mm -10:10 --wheels left",
        "alder --travel-mm -10:10 --rack-mm -5,5",
    ] {
        let found = heading(&format!("sweep {words} --readings toe"));
        assert!(!found.contains(", at "), "{words}: {found}");
    }
    // A chart counts one wheel's travel; the other's is told nowhere else.
    let words = "sweep alder --left-travel-mm -10:10 --right-travel-mm 7 --readings toe";
    assert!(!heading(words).contains(", at "), "the table has a column of it");
    let chart = heading(&format!("{words} --format chart"));
    assert!(chart.contains(", at right wheel travel 7.0 mm"), "{chart}");
}

/// A table of poses shows the columns it was given, however many rows it has.
#[test]
fn a_table_of_poses_keeps_its_columns() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    let shown = |text: &str| {
        std::fs::write(&file, text).unwrap();
        let text = fine(&format!("sweep alder --poses {} --readings toe", file.display()));
        let line = text.lines().find(|line| line.contains("12.0")).unwrap_or_else(|| panic!("{text}"));
        (text.clone(), line.split_whitespace().map(str::to_owned).collect::<Vec<_>>())
    };
    let (text, row) = shown("rack_mm,travel_mm\n12,10\n");
    assert!(text.contains("rack") && row[0] == "12.0" && row[2] == "10.0", "{text}");
    let (text, row) = shown("rack_mm,travel_mm\n12,10\n12,20\n");
    assert!(text.contains("rack") && row[0] == "12.0" && row[2] == "10.0", "{text}");
    let (text, row) = shown("left_travel_mm,right_travel_mm\n12,12\n");
    assert!(text.contains("left") && row[..2] == ["12.0", "12.0"], "{text}");
    let (text, row) = shown("travel_mm\n12\n");
    assert!(!text.contains("rack") && row[0] == "12.0", "{text}");
}

/// A long title still ends on the sheet.
#[test]
fn a_long_title_is_set_smaller() {
    let figure = fine(
        "sweep alder --over steer --left-travel-mm 20 --right-travel-mm -5 --readings ackermann_inner --format svg",
    );
    let title = figure.lines().find(|line| line.contains("y=\"26.00\"")).unwrap();
    let size: f64 = title.split("font-size=\"").nth(1).unwrap().split('"').next().unwrap().parse().unwrap();
    assert!(size < 16.0 && size > 8.0, "{title}");
}
