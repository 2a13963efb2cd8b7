//! The one way to compare numbers in the workspace's tests.

/// Fails unless two numbers agree within a tolerance; says which and by how much.
#[macro_export]
macro_rules! assert_near {
    ($left:expr, $right:expr, $tolerance:expr $(, $($what:tt)+)?) => {{
        let (left, right, tolerance): (f64, f64, f64) = ($left, $right, $tolerance);
        let error = (left - right).abs();
        // Written so that not-a-number fails.
        assert!(
            error <= tolerance,
            "{} is not {} (off by {:e}, allowed {:e}){}",
            left, right, error, tolerance,
            { let what = String::new(); $(let what = format!(": {}", format_args!($($what)+));)? what }
        );
    }};
}
