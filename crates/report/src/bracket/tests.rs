//! What the sheet shows, read back from its files.

mod files;
mod read;
mod sheets;
mod words;
