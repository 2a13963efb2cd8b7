//! What becomes of links and parts where a point of theirs is moved.

/// What becomes of the links that end at a point, and of the parts that are to have it, where the point is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Links {
    /// They stay as they are: links keep their lengths, a strut its line in the upright, an arm its hinge. The wheel
    /// goes where they lead it.
    Kept,
    /// They are made to the point's new place: the design pose stays.
    Remade,
}
