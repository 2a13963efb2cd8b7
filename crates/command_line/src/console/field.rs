//! What a field of a record can be: each kind knows the unit at the end of its key, and what stands under it.

use crate::console::key_docs::KeyDocs;
use crate::console::record::{Declared, Held, Keyed, Put};
use wheelpath_geometry::{End, LengthUnit, WheelPosition};

/// A field of a record: a key, several, or none.
pub(crate) trait Field {
    /// Says the keys; `words` are those at the field.
    fn declare(name: &str, words: &str, docs: &mut KeyDocs);
    /// Hands over the keys with their values.
    fn put(&self, name: &str, lengths: LengthUnit, put: &mut Put<'_>);
}

/// What stands under one key.
pub(crate) trait Kind {
    /// The unit at the end of the key.
    fn suffix(_: LengthUnit) -> &'static str {
        ""
    }
    /// The unit in writing, or what else it is.
    fn unit(lengths: LengthUnit) -> &'static str;
    fn held(&self, lengths: LengthUnit) -> Held<'_>;
    /// Says the keys of what stands inside.
    fn declare_inside(_: &mut KeyDocs) {}
}

impl<K: Kind> Field for K {
    fn declare(name: &str, words: &str, docs: &mut KeyDocs) {
        let lengths = docs.lengths();
        docs.key(format!("{name}{}", K::suffix(lengths)), K::unit(lengths), words);
        K::declare_inside(docs);
    }

    fn put(&self, name: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        put(format_args!("{name}{}", K::suffix(lengths)), self.held(lengths));
    }
}

/// Null where there is none.
impl<K: Kind> Kind for Option<K> {
    fn suffix(lengths: LengthUnit) -> &'static str {
        K::suffix(lengths)
    }

    fn unit(lengths: LengthUnit) -> &'static str {
        K::unit(lengths)
    }

    fn held(&self, lengths: LengthUnit) -> Held<'_> {
        self.as_ref().map_or(Held::Nothing, |one| one.held(lengths))
    }

    fn declare_inside(docs: &mut KeyDocs) {
        K::declare_inside(docs);
    }
}

/// A key that is left out where there is no value for it.
pub(crate) struct LeftOut<F>(pub Option<F>);

impl<F: Field> Field for LeftOut<F> {
    fn declare(name: &str, words: &str, docs: &mut KeyDocs) {
        F::declare(name, words, docs);
    }

    fn put(&self, name: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        if let Some(field) = &self.0 {
            field.put(name, lengths, put);
        }
    }
}

/// The keys of a record among those of the one that it stands in.
pub(crate) struct Among<R>(pub R);

impl<R: Declared> Field for Among<R> {
    fn declare(_: &str, _: &str, docs: &mut KeyDocs) {
        R::declare(docs);
    }

    fn put(&self, _: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        self.0.entries(lengths, put);
    }
}

/// A record of its own under the key.
pub(crate) struct Under<R>(pub R);

impl<R: Declared> Kind for Under<R> {
    fn unit(_: LengthUnit) -> &'static str {
        RECORDS
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Record(&self.0)
    }

    fn declare_inside(docs: &mut KeyDocs) {
        R::declare(docs);
    }
}

/// Several records under the key.
impl<R: Declared> Kind for Vec<R> {
    fn unit(_: LengthUnit) -> &'static str {
        RECORDS
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Records(self.iter().map(|record| record as &dyn Keyed).collect())
    }

    fn declare_inside(docs: &mut KeyDocs) {
        R::declare(docs);
    }
}

/// The unit of a key that holds records.
pub(crate) const RECORDS: &str = "records";
/// The unit of a key that holds words.
pub(crate) const TEXT: &str = "text";

/// A record for each wheel under its key.
pub(crate) struct ByWheel<R>(pub [R; 4]);

impl<R: Declared> Keyed for ByWheel<R> {
    fn entries(&self, _: LengthUnit, put: &mut Put<'_>) {
        for (wheel, record) in WheelPosition::ALL.into_iter().zip(&self.0) {
            put(format_args!("{}", wheel.key()), Held::Record(record));
        }
    }
}

impl<R: Declared> Declared for ByWheel<R> {
    fn declare(docs: &mut KeyDocs) {
        declare_wheels(docs);
        R::declare(docs);
    }
}

/// Says the keys of the wheels.
pub(crate) fn declare_wheels(docs: &mut KeyDocs) {
    for wheel in WheelPosition::ALL {
        docs.key(wheel.key().to_owned(), RECORDS, &format!("The {wheel} wheel."));
    }
}

/// A record for each axle under its key.
pub(crate) struct ByAxle<R>(pub [R; 2]);

impl<R: Declared> Keyed for ByAxle<R> {
    fn entries(&self, _: LengthUnit, put: &mut Put<'_>) {
        for (end, record) in End::BOTH.into_iter().zip(&self.0) {
            put(format_args!("{}", end.name()), Held::Record(record));
        }
    }
}

impl<R: Declared> Declared for ByAxle<R> {
    fn declare(docs: &mut KeyDocs) {
        declare_axles(docs);
        R::declare(docs);
    }
}

/// Says the keys of the axles.
pub(crate) fn declare_axles(docs: &mut KeyDocs) {
    for end in End::BOTH {
        let words = format!("The {} axle; in points its own points.", end.name());
        docs.key(end.name().to_owned(), RECORDS, &words);
    }
}

/// How many, or a number of a list; from a file its line.
impl Kind for usize {
    fn unit(_: LengthUnit) -> &'static str {
        "count"
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Count(*self)
    }
}

impl Kind for bool {
    fn unit(_: LengthUnit) -> &'static str {
        TEXT
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Truth(*self)
    }
}

impl Kind for String {
    fn unit(_: LengthUnit) -> &'static str {
        TEXT
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Word(self)
    }
}

impl Kind for &'static str {
    fn unit(_: LengthUnit) -> &'static str {
        TEXT
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Word(self)
    }
}

/// Words in a list; in CSV parted by semicolons.
#[derive(Clone, Default)]
pub(crate) struct Words(pub Vec<String>);

impl Words {
    pub fn of<W: ToString>(words: impl IntoIterator<Item = W>) -> Self {
        Words(words.into_iter().map(|word| word.to_string()).collect())
    }
}

impl Kind for Words {
    fn unit(_: LengthUnit) -> &'static str {
        TEXT
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Words(self.0.iter().map(String::as_str).collect())
    }
}
