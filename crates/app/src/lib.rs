//! The window and the pictures of a car: everything of this program that draws.
//!
//! Promises: it holds no equation of a linkage; what it draws arrives as plain data
//! ([`wheelpath_stage::view`]) and what is done on it leaves as plain messages.

#[cfg(feature = "window")]
pub mod adapter;
#[cfg(feature = "window")]
pub mod frontend;
#[cfg(feature = "window")]
pub mod panels;
#[cfg(feature = "window")]
pub mod picture;
#[cfg(feature = "window")]
pub mod window;

#[cfg(test)]
#[path = "../../session/src/test_cars.rs"]
mod test_cars;

#[cfg(feature = "window")]
pub use window::open_window;
