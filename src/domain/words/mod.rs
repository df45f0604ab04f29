//! Words shared by every voice of the program: screens, commands, prompts.

pub mod caution;
