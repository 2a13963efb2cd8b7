//! What the sheet shows, read back from its files.

mod doubts;
mod files;
mod read;
mod sheets;
mod words;
