//! Rowan, Hazel, Sorrel and the example linkages against two outside solvers: `outside/references/` was
//! computed by `outside/references.py`, which shares no code with this project.

mod beams;
mod cars;
mod controls;
mod corners;
mod pairs;
mod pitch;
mod steered_beam;
mod steering;
mod trapezoid;
