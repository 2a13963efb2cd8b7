//! Steps that can be taken back, all of a sitting: a car is some kilobytes.

use super::car_edit::Target;
use wheelpath_geometry::{Car, Requirement};

/// What a step changes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct State {
    pub car: Car,
    pub limits: Vec<Requirement>,
    /// The proposal that is open, by the name of its file.
    pub open: Option<String>,
}

#[derive(Clone, Debug)]
struct Step {
    name: String,
    /// The state on the other side of the step.
    other: State,
}

/// Steps done and undone.
#[derive(Clone, Debug, Default)]
pub(super) struct History {
    done: Vec<Step>,
    undone: Vec<Step>,
    /// What the step under way changes.
    open: Option<Target>,
}

impl History {
    /// The state before the step under way on this target, if there is one.
    pub fn before(&self, target: Target) -> Option<&State> {
        (self.open == Some(target)).then(|| self.done.last().map(|step| &step.other))?
    }

    /// Notes a change: a new step, or more of the one under way.
    pub fn note(&mut self, target: Target, joins: bool, before: State, name: String) {
        self.undone.clear();
        if self.open == Some(target)
            && let Some(step) = self.done.last_mut()
        {
            step.name = name;
            return;
        }
        self.done.push(Step { name, other: before });
        self.open = joins.then_some(target);
    }

    /// Takes the step under way off again, for one that has come back to where it began.
    pub fn drop_last(&mut self) {
        self.done.pop();
        self.open = None;
    }

    pub fn settle(&mut self) {
        self.open = None;
    }

    pub fn undo(&mut self, now: State) -> Option<State> {
        self.open = None;
        let step = self.done.pop()?;
        self.undone.push(Step { name: step.name, other: now });
        Some(step.other)
    }

    pub fn redo(&mut self, now: State) -> Option<State> {
        self.open = None;
        let step = self.undone.pop()?;
        self.done.push(Step { name: step.name, other: now });
        Some(step.other)
    }

    pub fn next_undo(&self) -> Option<&str> {
        self.done.last().map(|step| step.name.as_str())
    }

    pub fn next_redo(&self) -> Option<&str> {
        self.undone.last().map(|step| step.name.as_str())
    }

    /// Names of the steps done, latest first.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.done.iter().rev().map(|step| step.name.as_str())
    }
}
