//! What the wall of curves remembers.

use crate::panels::state::panel::Panel;
use wheelpath_session::derived::curves::Spec;

/// The wall of curves with what it remembers.
pub(in crate::panels) type Wall<'a> = Panel<'a, WallState>;

/// A curve on the wall.
#[derive(Clone, Debug)]
pub struct Card {
    /// A number no other card has.
    pub id: u64,
    /// Which curve.
    pub spec: Spec,
    /// Whether it is drawn large.
    pub grown: bool,
    /// Whether the change from zero travel is drawn, as was asked for; none where neither was.
    pub from_zero: Option<bool>,
}

/// What the wall of curves remembers.
#[derive(Clone, Debug, Default)]
pub struct WallState {
    /// The curves on the wall.
    pub cards: Vec<Card>,
    /// Whether curves show what changed.
    pub difference: bool,
    next_card: u64,
    /// The curve that the wall scrolls to in the next frame.
    pub(in crate::panels) reveal_card: Option<u64>,
    /// The curve that is framed, as the one just asked for.
    pub(in crate::panels) framed_card: Option<u64>,
}

impl WallState {
    /// The usual curves of a car.
    #[must_use]
    pub fn usual(steers: bool) -> Self {
        let mut wall = WallState::default();
        Spec::usual(steers).into_iter().for_each(|spec| wall.add_card(spec));
        wall
    }

    /// Puts a curve on the wall, unless it hangs there.
    pub fn add_card(&mut self, spec: Spec) {
        if self.cards.iter().any(|card| card.spec == spec) {
            return;
        }
        self.cards.push(Card { id: self.next_card, spec, grown: false, from_zero: None });
        self.next_card += 1;
    }

    /// Puts a curve on the wall, unless it hangs there, and has it seen: the wall scrolls to it and frames it
    /// until something else is pressed.
    pub fn show_card(&mut self, spec: Spec) {
        self.add_card(spec);
        let card = self.cards.iter().find(|card| card.spec == spec).map(|card| card.id);
        (self.reveal_card, self.framed_card) = (card, card);
    }
}
