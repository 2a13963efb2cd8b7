//! Random numbers from a seed, the same on every machine: splitmix64 (Steele, Lea and Flood, "Fast splittable
//! pseudorandom number generators", from memory).

pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From zero to below a count, which is not zero.
    pub fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % count as u64).unwrap()
    }

    /// From one number to another.
    pub fn between(&mut self, from: f32, to: f32) -> f32 {
        let share = f32::from(u16::try_from(self.next() & 0xFFFF).unwrap()) / 65_535.0;
        from + (to - from) * share
    }

    /// Once in so many times.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    pub fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}
