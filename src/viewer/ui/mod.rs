//! The panels round the stage. They read the session and the model, and send commands.
//!
//! From the ground up: [`context`] is what all of them read, [`widgets`] what several of them
//! show; then the ducks, the part of a sheet in
//! the hand ([`sheet_hand`]), what asks and tells ([`dialogs`]), strips, cards, table and stage; the
//! rail and the top bar; [`panels`] is the whole window and [`run`] its systems.

pub mod cards;
pub mod context;
pub mod dialogs;
pub mod ducks;
pub mod load_plan;
pub mod panels;
pub mod rail;
pub mod run;
pub mod sheet_hand;
pub mod stage;
pub mod strips;
pub mod table;
pub mod top;
pub mod widgets;

pub use panels::panels;
pub use run::UiPlugin;
