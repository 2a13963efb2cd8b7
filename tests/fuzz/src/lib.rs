//! What must hold of any input: of the text of a car file, of a point table, of changes, limits and brackets, of
//! a car and its poses, of two who save at once.
//! Each target builds its input from bytes and hands it to the checks here; a check that fails panics.

pub mod bases;
pub mod beside_car;
pub mod car_file;
pub mod case;
pub mod lengths;
pub mod mutation;
pub mod near;
pub mod paths;
pub mod point_table;
pub mod solver;
pub mod two_writers;
