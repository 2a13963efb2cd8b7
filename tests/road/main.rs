//! The car on the road, against rigid-body geometry worked out in the road's own axes.

mod beam;
mod bend;
mod every_car;
mod loads;
mod rest;
mod roads;
mod shoulder;
mod stand;
mod turn;
mod views;
