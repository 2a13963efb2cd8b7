use super::{Axis, Chart, Series, Stroke};

fn axis(name: &str, unit: &str) -> Axis {
    Axis { name: name.into(), unit: unit.into() }
}

fn curve(glyph: char, name: &str, xs: impl Iterator<Item = f64>, f: impl Fn(f64) -> f64) -> Series {
    Series { glyph, name: name.into(), points: xs.map(|x| Some((x, f(x)))).collect(), stroke: Stroke::InTurn }
}

fn across() -> impl Iterator<Item = f64> {
    (-6..=6).map(|i| f64::from(i) * 5.0)
}

fn check(series: Vec<Series>, expected: &str) {
    let chart = Chart {
        title: "Toe over travel".into(),
        x: axis("Wheel travel", "mm"),
        y: axis("Toe", "°"),
        series,
        width: 41,
        height: 11,
    };
    let text = chart.text();
    assert_eq!(text.trim_end(), expected.trim_matches('\n').trim_end(), "\n{text}");
}

#[test]
fn a_line_and_its_mirror_cross_at_zero() {
    let series =
        vec![curve('L', "left", across(), |x| 0.01 * x), curve('R', "right", across(), |x| -0.01 * x)];
    check(
        series,
        "
Toe over travel
    Toe, °
 0.4 ┤                    ┊
     │RR                  ┊                  LL
     │  RRRRR             ┊             LLLLL
 0.2 ┤       RRRRRR       ┊       LLLLLL
     │            RRRRRR  ┊  LLLLLL
 0.0 ┤┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄*****┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄
     │            LLLLLL  ┊  RRRRRR
     │       LLLLLL       ┊       RRRRRR
−0.2 ┤  LLLLLL            ┊            RRRRRR
     │LL                  ┊                  RR
−0.4 ┤                    ┊
     └───────┬────────────┬────────────┬───────
           −20            0           20
      Wheel travel, mm
      L left   R right   * where they meet
",
    );
}

#[test]
fn a_curve_that_does_not_change_is_not_magnified() {
    check(
        vec![curve('L', "left", across(), |x| 2.0 + 1e-14 * x)],
        "
Toe over travel
   Toe, °
2.5 ┤                    ┊
    │                    ┊
    │                    ┊
    │                    ┊
    │                    ┊
2.0 ┤LLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLLL
    │                    ┊
    │                    ┊
    │                    ┊
    │                    ┊
1.5 ┤                    ┊
    └───────┬────────────┬────────────┬───────
          −20            0           20
     Wheel travel, mm
     L left
",
    );
}

#[test]
fn a_curve_is_broken_where_it_has_no_value() {
    let mut series = curve('o', "outer", across(), |x| x * x / 100.0);
    series.points[5] = None;
    series.points[6] = Some((0.0, f64::NAN));
    series.points[7] = None;
    check(
        vec![series],
        "
Toe over travel
  Toe, °
10 ┤                    ┊
   │oo                  ┊                  oo
   │ oo                 ┊                 oo
   │  oo                ┊                oo
   │   oo               ┊               oo
 5 ┤     oo             ┊             oo
   │      oo            ┊            oo
   │        oo          ┊          oo
   │          ooo       ┊       ooo
   │            oo      ┊      oo
 0 ┤                    ┊
   └───────┬────────────┬────────────┬───────
         −20            0           20
    Wheel travel, mm
    o outer
",
    );
}

#[test]
fn nothing_to_draw_is_said() {
    check(
        vec![Series { glyph: 'o', name: "none".into(), points: vec![None], stroke: Stroke::InTurn }],
        "Toe over travel\n  nothing to draw",
    );
}
