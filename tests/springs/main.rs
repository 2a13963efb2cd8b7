//! What springs a car and reaches across it, and the column that steers it.

mod cars;
mod column;
mod rates;
mod stiffness;
mod t_bar;
