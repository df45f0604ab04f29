//! Names as they stand in files: lower-case words joined by underscores.

/// Whether a text is lower-case letters, digits and underscores, 1 to 64 of them.
pub fn is_name(text: &str) -> bool {
    (1..=64).contains(&text.len())
        && text
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

/// Declares a type for the names of one kind of thing.
macro_rules! name_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub struct $name(String);

        impl $name {
            /// The name, when it is lower-case letters, digits and underscores, 1 to 64 of them.
            pub fn new(text: &str) -> Option<Self> {
                $crate::domain::units::is_name(text).then(|| Self(text.to_owned()))
            }

            /// The name as written.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.0)
            }
        }
    };
}

pub(crate) use name_type;
