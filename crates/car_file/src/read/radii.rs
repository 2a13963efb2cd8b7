//! From the tree to the parts' radii.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::tree::Node;
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::Part;

/// Radii of the parts of a corner, or of the axle as a whole, metres.
pub(crate) fn radii(
    node: &Node,
    assembly: Assembly,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vec<(Part, f64)>> {
    let belongs = |part: Part| part.is_of_axle() == assembly.side().is_none();
    let known: Vec<_> = Part::ALL.iter().map(|part| part.key()).collect();
    let told: Vec<_> = Part::ALL.iter().filter(|part| belongs(**part)).map(|part| part.key()).collect();
    let fields = notes.fields_telling(node, &format!("the {assembly} radii"), &known, &told)?;
    let mut radii = Vec::new();
    for &part in Part::ALL {
        let key = part.key();
        let Some(value) = fields.get(key) else { continue };
        if !belongs(part) {
            notes.add(fields.key_start(key), Fault::Misplaced { assembly, key, block: "radii" });
            continue;
        }
        let radius = notes.positive(value, &format!("the radius of the {assembly} {part}"))?;
        radii.push((part, measures.length(radius)));
    }
    Some(radii)
}
