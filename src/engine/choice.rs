//! Questions answered by picking one of a few words.
//!
//! Every such answer in a scenario is an `Option`: `None` is "I don't know",
//! and keeps the typical range.

/// A closed list of answers to one question of the wizard.
pub trait Choice: Copy + PartialEq + Sized + 'static {
    /// The question as asked of the user.
    const QUESTION: &'static str;
    /// Every answer, in the order to offer them.
    const ALL: &'static [Self];
    /// The answer in a few words.
    fn label(self) -> &'static str;
    /// One line that helps to choose; may be empty.
    fn hint(self) -> &'static str;
}

/// Declares an enum with its question, labels and hints in one table.
#[macro_export]
macro_rules! choices {
    (
        $(#[$meta:meta])*
        $name:ident: $question:literal {
            $( $variant:ident => $label:literal, $hint:literal; )+
        }
    ) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $(
                #[doc = $label]
                $variant,
            )+
        }

        impl $crate::choice::Choice for $name {
            const QUESTION: &'static str = $question;
            const ALL: &'static [Self] = &[$(Self::$variant),+];

            fn label(self) -> &'static str {
                match self { $(Self::$variant => $label),+ }
            }

            fn hint(self) -> &'static str {
                match self { $(Self::$variant => $hint),+ }
            }
        }
    };
}
pub use choices;
