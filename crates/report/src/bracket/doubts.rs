//! What is doubtful about the holes that a plate is measured from.

use super::BracketSheet;

/// A hole further off the plate's plane than this is on no plate of sheet metal, metres. Common practice, no
/// source.
const OFF_PLATE: f64 = 0.01;
/// A hole further from every moved hole than this is on another plate, metres. Common practice, no source.
const FAR: f64 = 0.3;
/// Where no diameter is known, centres nearer than this are one hole, metres: half of the smallest bolt's hole
/// here. Common practice, no source.
const ONE_HOLE: f64 = 0.003;

/// Less metal than this between two holes, in diameters of the smaller one, tears out. Common practice, no source.
const LEAST_METAL: f64 = 0.5;

/// A hole that is moved by more, metres, is more often a slip than a bracket. Common practice, no source.
const LARGE_MOVE: f64 = 0.1;

impl BracketSheet {
    /// What is doubtful about the holes, in words: one is moved very far, a new hole or one that stays stands off the plate, one that stays
    /// far from what is moved or where a new hole is to be, or a new hole leaves hardly any metal beside another.
    #[must_use]
    pub fn doubts(&self) -> Vec<String> {
        let mut all = Vec::new();
        for hole in &self.holes {
            let by = (hole.new - hole.old).norm();
            if by > LARGE_MOVE {
                all.push(format!(
                    "{}: it is moved by {}, an unusually large move: look at the proposal's numbers, their signs and \
                     units",
                    hole.name,
                    self.with_unit(by)
                ));
            }
            let off = self.plate.place(&hole.new).z;
            if off.abs() > OFF_PLATE {
                let how = if off > 0.0 { "in front of" } else { "behind" };
                all.push(format!(
                    "{}: the new hole stands {} {how} the plate's plane: no drill in this plate meets it, look at the \
                     move and at the plane",
                    hole.name,
                    self.with_unit(off.abs())
                ));
            }
        }
        for near in self.near() {
            let metal = near.reach.map(|reach| near.apart - reach).filter(|metal| *metal >= 0.0);
            let (Some(metal), Some(narrower)) = (metal, near.narrower) else { continue };
            if metal < LEAST_METAL * narrower {
                all.push(format!(
                    "{}: the new hole leaves {} of metal beside {}, less than half of the smaller hole's diameter",
                    near.hole.name,
                    self.with_unit(metal),
                    near.name
                ));
            }
        }
        for reference in &self.references {
            let name = &reference.name;
            let off = self.plate.place(&reference.at).z;
            if off.abs() > OFF_PLATE {
                let how = if off > 0.0 { "in front of" } else { "behind" };
                all.push(format!(
                    "{name} stands {} {how} the plate's plane: it is no hole of a flat plate, look at its place",
                    self.with_unit(off.abs())
                ));
            }
            let apart = self.holes.iter().map(|hole| (hole.old - reference.at).norm());
            let nearest = apart.fold(f64::INFINITY, f64::min);
            if nearest.is_finite() && nearest > FAR {
                all.push(format!(
                    "{name} stands {} from the nearest hole that moves: on the same plate? Look at its place",
                    self.with_unit(nearest)
                ));
            }
            for hole in &self.holes {
                let between = self.plate.along(&(hole.new - reference.at)).xy().norm();
                let reach = hole.diameter.zip(reference.diameter);
                // Holes of known diameters that cut into one another are told of as cuts.
                let one = reach.map_or(ONE_HOLE, |_| 1e-6);
                if between <= one && off.abs() <= OFF_PLATE {
                    all.push(format!(
                        "{}: the new hole stands on {name}, {} between their centres: that is measured from and \
                         stays",
                        hole.name,
                        self.with_unit(between)
                    ));
                }
            }
        }
        all
    }
}
