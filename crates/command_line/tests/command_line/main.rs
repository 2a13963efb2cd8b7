//! The command line, run in this process: words in; exit code, results and complaints out.

#[cfg(test)]
mod before_after;
#[cfg(test)]
mod brackets;
#[cfg(test)]
mod changes;
#[cfg(test)]
mod clearances;
#[cfg(test)]
mod corners;
#[cfg(test)]
mod data;
#[cfg(test)]
mod exit_codes;
#[cfg(test)]
mod files;
#[cfg(test)]
mod import;
#[cfg(test)]
mod loads;
#[cfg(test)]
mod mistaken;
#[cfg(test)]
mod new;
#[cfg(test)]
mod numbers;
#[cfg(test)]
mod on_road;
#[cfg(test)]
mod paths;
#[cfg(test)]
mod people;
#[cfg(test)]
mod poses;
#[cfg(test)]
mod reach;
#[cfg(test)]
mod readme;
#[cfg(test)]
mod schema_keys;
#[cfg(test)]
mod steering;
#[cfg(test)]
mod support;
#[cfg(test)]
mod sweep_held;
#[cfg(test)]
mod tried;
#[cfg(test)]
mod units;
#[cfg(test)]
mod without_window;
