//! Everything that is tested from outside the crate, in one program (each test program
//! links the whole engine).

mod aboard;
mod afloat;
mod afloat_by_hand;
mod afloat_told;
mod bends;
mod bevelled;
mod book;
mod bow;
mod cards;
mod cli;
mod corpus;
mod curves;
mod deducted;
mod drains;
mod ends;
#[cfg(feature = "viewer")]
mod first_page;
mod frames;
mod gussets;
mod hulls;
mod jig;
mod jig_ends;
mod keeping;
mod ladder;
mod layers;
mod layers_viewer;
#[cfg(feature = "viewer")]
mod layout;
#[cfg(feature = "viewer")]
mod layout_lines;
#[cfg(feature = "viewer")]
mod loft;
#[cfg(feature = "viewer")]
mod loft_asks;
#[cfg(feature = "viewer")]
mod loft_bones;
#[cfg(feature = "viewer")]
mod loft_keys;
#[cfg(feature = "viewer")]
mod loft_lines;
#[cfg(feature = "viewer")]
mod loft_prices;
#[cfg(feature = "viewer")]
mod loft_sheets;
#[cfg(feature = "viewer")]
mod loft_stock;
#[cfg(feature = "viewer")]
mod loft_table;
mod meshes;
mod nest;
mod odd_hulls;
mod outlines;
mod paper;
mod paths;
mod patterns;
#[cfg(feature = "viewer")]
mod pictures;
mod plain_words;
mod plan_tables;
mod properties;
mod properties_afloat;
mod properties_frames;
mod rails;
mod reference;
mod regressions;
mod reuse;
mod saving;
mod sentences;
mod shapes;
mod sheet_edges;
mod sheet_names;
mod sheets;
mod speeds;
mod sticks_cut;
mod stock_document;
mod stock_joints;
mod stock_list;
mod stock_lumber;
mod stock_neighbours;
mod stock_sawn;
mod structure;
mod trimmed;
#[cfg(feature = "viewer")]
mod window;
mod yard;
