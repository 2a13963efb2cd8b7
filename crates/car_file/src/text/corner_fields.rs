//! Blocks with a value for each corner.

use crate::text::tree::{Kind, Node};
use wheelpath_geometry::WheelPosition;

/// A block with a value for each corner, with its keys as `front_left` and so on.
pub(crate) fn with_corner_keys(node: &Node) -> Node {
    let mut node = node.clone();
    if let Kind::Fields(fields) = &mut node.kind {
        for field in fields {
            if let Some(at) = WheelPosition::from_word(&field.key) {
                field.key = at.key().to_owned();
            }
        }
    }
    node
}
