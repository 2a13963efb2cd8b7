//! Answers that are found at once, kept with their questions.

use std::sync::Arc;

/// Answers with the questions that they belong to.
#[derive(Clone, Debug)]
pub struct Kept<K, V>(Vec<(K, Arc<V>)>);

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Kept(Vec::new())
    }
}

impl<K, V> Kept<K, V> {
    /// The answer to a question: the one that is kept, or one that is made now, in the place of those whose
    /// questions it `replaces`.
    pub fn of(&mut self, asked: K, replaces: impl Fn(&K) -> bool, make: impl FnOnce(&K) -> V) -> Arc<V>
    where
        K: PartialEq,
    {
        if let Some((_, answer)) = self.0.iter().find(|(kept, _)| *kept == asked) {
            return Arc::clone(answer);
        }
        let answer = make(&asked);
        self.keep(asked, replaces, answer)
    }

    /// Keeps an answer in the place of those whose questions it `replaces`.
    pub fn keep(&mut self, asked: K, replaces: impl Fn(&K) -> bool, answer: V) -> Arc<V> {
        self.0.retain(|(kept, _)| !replaces(kept));
        let answer = Arc::new(answer);
        self.0.push((asked, Arc::clone(&answer)));
        answer
    }

    /// The first that is kept to a question like this; its question may be put in other words that mean the
    /// same.
    pub fn known(&mut self, is_it: impl Fn(&K) -> bool) -> Option<(&mut K, &Arc<V>)> {
        self.0.iter_mut().find(|(kept, _)| is_it(kept)).map(|(kept, answer)| (kept, &*answer))
    }

    /// Lets go of all whose question is not among those still wanted.
    pub fn retain(&mut self, is_wanted: impl Fn(&K) -> bool) {
        self.0.retain(|(kept, _)| is_wanted(kept));
    }
}

#[cfg(test)]
mod tests {
    use super::Kept;
    use std::sync::Arc;

    #[test]
    fn an_answer_stays_until_its_place_is_taken() {
        let mut kept: Kept<(char, u32), u32> = Kept::default();
        let mut made = 0;
        let mut ask = |kept: &mut Kept<(char, u32), u32>, asked: (char, u32)| {
            *kept.of(
                asked,
                |old| old.0 == asked.0,
                |asked| {
                    made += 1;
                    asked.1 * 10
                },
            )
        };
        assert_eq!(ask(&mut kept, ('a', 1)), 10);
        assert_eq!(ask(&mut kept, ('b', 2)), 20);
        // Both stay, and are not made again.
        assert_eq!((ask(&mut kept, ('a', 1)), ask(&mut kept, ('b', 2))), (10, 20));
        assert_eq!(ask(&mut kept, ('a', 3)), 30);
        assert_eq!(ask(&mut kept, ('a', 1)), 10);
        assert_eq!(made, 4);
        assert!(kept.known(|asked| asked.1 == 3).is_none(), "its place is taken");
        let (asked, answer) = kept.known(|asked| asked.0 == 'b').expect("it is kept");
        assert_eq!(**answer, 20);
        asked.1 = 5;
        assert!(
            kept.known(|asked| *asked == ('b', 5)).is_some_and(|(_, answer)| Arc::strong_count(answer) == 1)
        );
        kept.retain(|asked| asked.0 == 'a');
        assert!(kept.known(|asked| asked.0 == 'b').is_none());
    }
}
