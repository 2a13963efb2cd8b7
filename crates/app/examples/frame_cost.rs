//! What a frame costs while a pickup is pulled, drawn off screen on whatever draws here, beside an empty
//! scene of the same size: `cargo run --release --example frame_cost -- [CAR] [FRAMES] [full|plain]`. The
//! whole window is drawn, with all overlays and eight curves; every frame is waited for until it is on the
//! picture. `plain` leaves shadows and smooth edges out, as the window does by itself where a processor
//! draws.

use bevy::prelude::*;
use bevy_egui::EguiPostUpdateSet;
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};
use wheelpath::panels::Task;
use wheelpath::picture::{PictureOptions, find_adapter, render_frames};
use wheelpath::window::{Panels, Work, Workbench};
use wheelpath_geometry::{Assembly, End, Hardpoint, WheelPosition};
use wheelpath_session::derived::curves::{Curve, Spec};
use wheelpath_session::{CarEdit, Edit, Session};
use wheelpath_stage::StageSet;
use wheelpath_stage::render::light::Quality;
use wheelpath_stage::view::standard_views::StandardView;
use wheelpath_stage::view::{Stage, StageView};

/// Where the time of a frame went.
#[derive(Resource, Clone, Copy, Debug, Default)]
struct Spent {
    solving: Duration,
    curves: Duration,
    scene: Duration,
    panels: Duration,
    since: Option<Instant>,
    frame: u32,
}

const ASSEMBLY: Assembly = Assembly::Corner(WheelPosition::ALL[0]);
const PICKUP: Hardpoint = Hardpoint::TieRodInner;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let car = PathBuf::from(arguments.next().unwrap_or_else(|| "demo-cars/alder.ron".to_owned()));
    let frames = arguments.next().and_then(|text| text.parse().ok()).unwrap_or(600);
    let quality = match arguments.next().as_deref() {
        Some("plain") => Quality::Plain,
        _ => Quality::Full,
    };
    let mut out = std::io::stdout();
    let Ok(adapter) = find_adapter() else { return ExitCode::FAILURE };
    let Ok(session) = Session::open(&car) else { return ExitCode::FAILURE };
    let _ = writeln!(out, "{}, {frames} frames, {quality:?}; median | 99th percentile, ms", adapter.name);
    for (width, height) in [(1280, 720), (2560, 1440)] {
        let view = StandardView::ThreeQuarter;
        let options = PictureOptions { view, width, height, quality, ..PictureOptions::default() };
        let Some(empty) = empty(&options, frames) else { return ExitCode::FAILURE };
        let Some(pulled) = pulled(&options, frames, session.clone()) else { return ExitCode::FAILURE };
        let _ = writeln!(out, "{width}x{height}");
        let mut say = |name: &str, times: Vec<Duration>| {
            let [median, late] = shares(times);
            let _ = writeln!(out, "  {name:<34} {median:8.2} | {late:8.2}");
        };
        say("empty scene", empty);
        let of = |part: fn(&Spent) -> Duration| pulled.iter().map(|(_, spent)| part(spent)).collect();
        say("solving", of(|spent| spent.solving));
        say("curves", of(|spent| spent.curves));
        say("scene update", of(|spent| spent.scene));
        say("panels", of(|spent| spent.panels));
        say("these four: our own part", of(own));
        let rest = pulled.iter().map(|(whole, spent)| whole.saturating_sub(own(spent))).collect();
        say("drawing, and all else", rest);
        say("whole frame", pulled.iter().map(|(whole, _)| *whole).collect());
    }
    ExitCode::SUCCESS
}

fn own(spent: &Spent) -> Duration {
    spent.solving + spent.curves + spent.scene + spent.panels
}

/// Median and 99th percentile, milliseconds.
fn shares(mut times: Vec<Duration>) -> [f64; 2] {
    times.sort();
    let last = times.len().saturating_sub(1);
    [last / 2, last * 99 / 100].map(|n| times.get(n).map_or(f64::NAN, |time| time.as_secs_f64() * 1e3))
}

/// A stage with nothing on it but its sheet, and no panels.
fn empty(options: &PictureOptions, frames: u32) -> Option<Vec<Duration>> {
    let mut times = Vec::new();
    let stage = Stage { car: StageView::default(), ..Stage::default() };
    let furnish = |app: &mut App| {
        app.insert_resource(stage);
    };
    render_frames(options, frames, furnish, |time, _| times.push(time)).ok()?;
    Some(times)
}

/// The whole window while a tie rod's inner end is pulled up and down.
fn pulled(options: &PictureOptions, frames: u32, session: Session) -> Option<Vec<(Duration, Spent)>> {
    let mut bench = Workbench::new(session);
    bench.panels.task = Task::Change;
    bench.panels.select(Some((ASSEMBLY, PICKUP)));
    bench.panels.hidden.clear();
    for (end, key) in [(End::Front, "caster"), (End::Front, "roll_centre_height")] {
        if let Some(spec) = Spec::over_travel(end, key) {
            bench.panels.wall.add_card(spec);
        }
    }
    let furnish = |app: &mut App| {
        app.add_plugins(bench)
            .init_resource::<Spent>()
            .add_systems(Update, pull.in_set(StageSet::Read))
            .add_systems(Update, sweep.after(StageSet::Show))
            .add_systems(
                PostUpdate,
                (
                    note_start.before(EguiPostUpdateSet::EndPass),
                    note_panels.after(EguiPostUpdateSet::EndPass).before(EguiPostUpdateSet::ProcessOutput),
                ),
            );
    };
    let mut times = Vec::new();
    let each = |time: Duration, world: &mut World| times.push((time, *world.resource::<Spent>()));
    render_frames(options, frames, furnish, each).ok()?;
    Some(times)
}

/// Puts the point somewhere else, as a hand would: this solves the car.
fn pull(mut work: ResMut<Work>, mut spent: ResMut<Spent>) {
    let start = Instant::now();
    let by = 0.004 * (f64::from(spent.frame) * 0.05).sin();
    let from = ASSEMBLY.hardpoints(work.0.original()).get(PICKUP);
    if let Some(from) = from {
        let to = from + nalgebra::Vector3::new(0.0, 0.0, by);
        let change = CarEdit::move_point(ASSEMBLY, PICKUP, to, true);
        work.0.apply(Edit::Change(change));
    }
    spent.solving = start.elapsed();
    spent.since = Some(Instant::now());
    spent.frame += 1;
}

/// What the stage took to follow; then the curves are made, which the panels will only draw.
#[expect(clippy::needless_pass_by_value, reason = "systems take their parameters by value")]
fn sweep(work: Res<Work>, mut panels: ResMut<Panels>, mut spent: ResMut<Spent>) {
    spent.scene = spent.since.map_or(Duration::ZERO, |since| since.elapsed());
    let start = Instant::now();
    let specs: Vec<Spec> = panels.0.wall.cards.iter().map(|card| card.spec).collect();
    panels.0.derived.curves.prepare(&work.0, &specs);
    for spec in specs {
        let _ = Curve::of(&work.0, spec, &mut panels.0.derived.curves);
    }
    spent.curves = start.elapsed();
}

fn note_start(mut spent: ResMut<Spent>) {
    spent.since = Some(Instant::now());
}

fn note_panels(mut spent: ResMut<Spent>) {
    spent.panels = spent.since.map_or(Duration::ZERO, |since| since.elapsed());
}
