//! Bending against closed forms and the handbook.
