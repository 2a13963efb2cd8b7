//! lab
use std::hint::black_box;
use std::time::Instant;
use wheelpath_geometry::*;
fn time(name: &str, poses: f64, mut f: impl FnMut()) {
    let mut all: Vec<f64> = (0..3000).map(|_| { let t = Instant::now(); f(); t.elapsed().as_secs_f64() }).collect();
    all.sort_by(f64::total_cmp);
    println!("{name:40} min {:8.1} ns  median {:8.1} ns a pose", all[0] / poses * 1e9, all[1500] / poses * 1e9);
}
fn main() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder.ron");
    let car = wheelpath_car_file::load(&path).unwrap().document.car().clone();
    let axle = AxleSolver::new(&car, End::Front).unwrap();
    let c = axle.corner(Side::Left).unwrap();
    if std::env::args().any(|a| a == "solve") { for _ in 0..200000 { let _ = black_box(c.solve(black_box(-0.05), 0.0)); } return; }
    let travels = spaced(-0.05, 0.05, 1001);
    let many = spaced(-0.05, 0.05, 10001);
    time("solve 50 mm", 1.0, || { let _ = black_box(c.solve(black_box(-0.05), 0.0)); });
    time("positions 1001", 1001.0, || { c.sweep_poses(&travels, 0.0, |_, p| { black_box(p.origin); }).unwrap(); });
    time("positions 10001", 10001.0, || { c.sweep_poses(&many, 0.0, |_, p| { black_box(p.origin); }).unwrap(); });
    time("motions 1001", 1001.0, || { c.sweep_travel(&travels, 0.0, |_, p| { black_box(p.wheel_centre); }).unwrap(); });
    time("motions 10001", 10001.0, || { c.sweep_travel(&many, 0.0, |_, p| { black_box(p.wheel_centre); }).unwrap(); });
    time("values 1001", 1001.0, || { c.sweep_values(&travels, 0.0, |_, p| { black_box(p); }).unwrap(); });
    time("values 10001", 10001.0, || { c.sweep_values(&many, 0.0, |_, p| { black_box(p); }).unwrap(); });
    let normal = Ground::level().normal;
    let m = c.start().motion;
    time("wheel_values x100", 100.0, || { for _ in 0..100 { let m = black_box(&m); black_box(wheel_values(m, &OnGround::of(m, normal))); } });
}
