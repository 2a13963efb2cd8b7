//! Which kind of file it is.

/// What a file can be: its name in words and what its `format` says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FileKind {
    /// With an article.
    pub name: &'static str,
    /// What `format` says.
    pub format: &'static str,
}

impl FileKind {
    /// All kinds.
    pub const ALL: [FileKind; 4] = [FileKind::CAR, FileKind::PROPOSAL, FileKind::BRACKETS, FileKind::LIMITS];
    /// A car.
    pub const CAR: FileKind = FileKind { name: "a car file", format: crate::FORMAT };
    /// A proposal.
    pub const PROPOSAL: FileKind = FileKind { name: "a proposal", format: "wheelpath proposal" };
    /// Brackets.
    pub const BRACKETS: FileKind = FileKind { name: "a list of brackets", format: "wheelpath brackets" };
    /// Limits for readings, distances and joints.
    pub const LIMITS: FileKind = FileKind { name: "a list of limits", format: "wheelpath limits" };
}
