//! What a source file names: every path in it, whole, but for what is compiled only into tests.

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::Visit;
use syn::{Attribute, File, ImplItem, Item, Macro, Meta, UseTree};

/// Paths and words of one file.
#[derive(Debug, Default)]
pub(crate) struct Named {
    /// Paths from the crate's root: `crate::a::b` and whatever `super` and `self` make of it.
    pub(crate) own: Vec<Vec<String>>,
    /// Other paths, from their first name.
    pub(crate) other: Vec<Vec<String>>,
    /// Names and texts, in small letters, cut into words.
    pub(crate) words: Vec<String>,
    /// Texts as they stand, but for what a panic says.
    pub(crate) texts: Vec<String>,
}

/// What a file says that lies in module `module` (`["flat", "laps"]`).
pub(crate) fn named(text: &str, module: &[String]) -> Named {
    let file: File = syn::parse_file(text).expect("a source file that parses");
    let mut reader = Reader { module: module.to_vec(), out: Named::default() };
    reader.visit_file(&file);
    reader.out
}

struct Reader {
    module: Vec<String>,
    out: Named,
}

impl Reader {
    /// Notes a path; `super`, `self` and `crate` are walked from the module in which it stands.
    fn note(&mut self, path: &[String]) {
        let mut at = self.module.clone();
        let mut own = false;
        let mut rest = path.iter();
        for name in rest.by_ref() {
            match name.as_str() {
                "crate" => at.clear(),
                "super" => drop(at.pop()),
                "self" => {}
                _ => {
                    let whole = if own { at } else { Vec::new() };
                    let all = whole.into_iter().chain([name.clone()]).chain(rest.cloned());
                    let into = if own { &mut self.out.own } else { &mut self.out.other };
                    into.push(all.collect());
                    return;
                }
            }
            own = true;
        }
        if own && path != ["self"] {
            // The root or a module itself, to be named by another name.
            self.out.own.push(at);
        }
    }

    fn tree(&mut self, before: &[String], tree: &UseTree) {
        if let UseTree::Path(syn::UsePath { ident, .. })
        | UseTree::Name(syn::UseName { ident })
        | UseTree::Rename(syn::UseRename { ident, .. }) = tree
        {
            self.word(&ident.to_string());
        }
        let with = |name: &syn::Ident| [before, &[name.to_string()]].concat();
        match tree {
            UseTree::Path(p) => self.tree(&with(&p.ident), &p.tree),
            UseTree::Name(n) if n.ident == "self" => self.note(before),
            UseTree::Name(n) => self.note(&with(&n.ident)),
            UseTree::Rename(r) if r.ident == "self" => self.note(before),
            UseTree::Rename(r) => self.note(&with(&r.ident)),
            UseTree::Glob(_) => self.note(&[before, &["*".to_string()]].concat()),
            UseTree::Group(g) => g.items.iter().for_each(|t| self.tree(before, t)),
        }
    }

    /// Paths in the tokens of a macro or attribute, which is not parsed further.
    fn tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Ident(i) => {
                    if colons != 2 {
                        self.close(&mut path);
                    }
                    path.push(i.to_string());
                    self.word(&i.to_string());
                    colons = 0;
                }
                TokenTree::Punct(p) if p.as_char() == ':' => colons += 1,
                TokenTree::Group(g) => {
                    self.close(&mut path);
                    colons = 0;
                    if !documents(&g) {
                        self.tokens(g.stream());
                    }
                }
                other => {
                    self.close(&mut path);
                    colons = 0;
                    if let Ok(text) = syn::parse_str::<syn::LitStr>(&other.to_string()) {
                        self.visit_lit_str(&text);
                    }
                }
            }
        }
        self.close(&mut path);
    }

    fn close(&mut self, path: &mut Vec<String>) {
        if path.len() > 1 {
            self.note(path);
        }
        path.clear();
    }

    fn word(&mut self, text: &str) {
        let lower = text.to_lowercase();
        let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
        self.out.words.extend(words.map(str::to_string));
    }
}

impl<'a> Visit<'a> for Reader {
    fn visit_item(&mut self, item: &'a Item) {
        if only_in_tests(attributes(item)) {
            return;
        }
        if let Item::Mod(m) = item {
            self.module.push(m.ident.to_string());
            syn::visit::visit_item(self, item);
            self.module.pop();
        } else {
            syn::visit::visit_item(self, item);
        }
    }

    fn visit_impl_item(&mut self, item: &'a ImplItem) {
        let skipped = match item {
            ImplItem::Fn(f) => only_in_tests(&f.attrs),
            ImplItem::Const(c) => only_in_tests(&c.attrs),
            _ => false,
        };
        if !skipped {
            syn::visit::visit_impl_item(self, item);
        }
    }

    fn visit_item_use(&mut self, used: &'a syn::ItemUse) {
        self.tree(&[], &used.tree);
    }

    /// Who may see a thing is no use of it.
    fn visit_vis_restricted(&mut self, _: &'a syn::VisRestricted) {}

    fn visit_path(&mut self, path: &'a syn::Path) {
        let names: Vec<String> = path.segments.iter().map(|s| s.ident.to_string()).collect();
        self.note(&names);
        syn::visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, m: &'a Macro) {
        self.visit_path(&m.path);
        let before = self.out.texts.len();
        self.tokens(m.tokens.clone());
        if m.path.get_ident().is_some_and(|i| PANICS.contains(&i.to_string().as_str())) {
            self.out.texts.truncate(before);
        }
    }

    fn visit_expr_method_call(&mut self, call: &'a syn::ExprMethodCall) {
        let before = self.out.texts.len();
        syn::visit::visit_expr_method_call(self, call);
        if call.method == "expect" {
            // What it is called on may say something all the same.
            let of = literals(&call.receiver);
            self.out.texts.truncate(before + of);
        }
    }

    fn visit_attribute(&mut self, attribute: &'a Attribute) {
        if attribute.path().is_ident("doc") {
            return;
        }
        if let Meta::List(list) = &attribute.meta {
            // `default = "crate::hull::one"` names what it calls in a text.
            for token in list.tokens.clone() {
                let text = syn::parse_str::<syn::LitStr>(&token.to_string());
                if let Some(path) = text.ok().and_then(|t| t.parse::<syn::Path>().ok()) {
                    self.visit_path(&path);
                }
            }
            self.tokens(list.tokens.clone());
        }
    }

    fn visit_ident(&mut self, ident: &'a syn::Ident) {
        self.word(&ident.to_string());
    }

    fn visit_lit_str(&mut self, text: &'a syn::LitStr) {
        self.word(&text.value());
        self.out.texts.push(text.value());
    }
}

/// Whether it is what a comment of documentation becomes inside a macro: `[doc = "…"]`.
fn documents(group: &proc_macro2::Group) -> bool {
    let first = group.stream().into_iter().next();
    group.delimiter() == proc_macro2::Delimiter::Bracket
        && first.is_some_and(|t| matches!(t, TokenTree::Ident(i) if i == "doc"))
}

/// Macros whose text only a panic shows.
const PANICS: [&str; 8] = [
    "panic",
    "assert",
    "assert_eq",
    "assert_ne",
    "debug_assert",
    "debug_assert_eq",
    "unreachable",
    "unimplemented",
];

/// How many texts an expression holds.
fn literals(of: &syn::Expr) -> usize {
    let mut reader = Reader { module: Vec::new(), out: Named::default() };
    reader.visit_expr(of);
    reader.out.texts.len()
}

fn only_in_tests(attributes: &[Attribute]) -> bool {
    let ident = |t: &TokenTree, name: &str| matches!(t, TokenTree::Ident(i) if i == name);
    attributes.iter().any(|a| match &a.meta {
        Meta::List(list) if list.path.is_ident("cfg") => {
            let tokens: Vec<TokenTree> = list.tokens.clone().into_iter().collect();
            match tokens.as_slice() {
                [one] => ident(one, "test"),
                [all, TokenTree::Group(g)] if ident(all, "all") => {
                    g.stream().into_iter().any(|t| ident(&t, "test"))
                }
                _ => false,
            }
        }
        _ => false,
    })
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(i) => &i.attrs,
        Item::Enum(i) => &i.attrs,
        Item::ExternCrate(i) => &i.attrs,
        Item::Fn(i) => &i.attrs,
        Item::Impl(i) => &i.attrs,
        Item::Macro(i) => &i.attrs,
        Item::Mod(i) => &i.attrs,
        Item::Static(i) => &i.attrs,
        Item::Struct(i) => &i.attrs,
        Item::Trait(i) => &i.attrs,
        Item::Type(i) => &i.attrs,
        Item::Use(i) => &i.attrs,
        _ => &[],
    }
}

/// Every way of naming a module is read, wherever in the file it stands.
#[test]
fn every_path_of_a_file_is_read() {
    let text = r#"
        use crate::{geom::{P2, plane::{self, Plane}}, hull as boat};
        use super::super::panel;
        #[cfg(test)]
        use crate::cli;
        #[cfg(test)]
        mod tests { use crate::drawing::Drawing; fn f() { crate::viewer::run() } }
        #[cfg(all(test, unix))]
        fn only_tested() { crate::setup::capital("x"); }
        #[derive(Deserialize)]
        struct S { #[serde(default = "crate::material::one")] a: u8 }
        fn later() -> crate::model::Model {
            let x = std::time::Instant::now();
            println!("{:?}", [crate::bend::limit(x), super::shell()]);
            crate::float::volume::immersed::<bevy::Mesh>()
        }
        mod inner { use super::sibling::Thing; pub(in crate::frames) fn g() {} }
        impl S { #[cfg(test)] fn h() { crate::tol::X; } #[cfg(not(test))] fn k(_: crate::units::U) {} }
    "#;
    let module = ["flat", "laps"].map(String::from);
    let found = named(text, &module);
    let mut own: Vec<String> = found.own.iter().map(|p| p.join("::")).collect();
    own.sort();
    own.dedup();
    assert_eq!(
        own,
        [
            "bend::limit",
            "flat::laps::sibling::Thing",
            "flat::shell",
            "float::volume::immersed",
            "geom::P2",
            "geom::plane",
            "geom::plane::Plane",
            "hull",
            "material::one",
            "model::Model",
            "panel",
            "units::U",
        ]
    );
    let other: Vec<String> = found.other.iter().map(|p| p.join("::")).collect();
    assert!(
        other.contains(&"bevy::Mesh".into()) && other.contains(&"std::time::Instant::now".into())
    );
    assert!(found.words.contains(&"sibling".into()) && !found.words.contains(&"cli".into()));
}
