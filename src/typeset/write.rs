//! Pages as a PDF file, with bookmarks, links and the structure that it is read aloud by.

use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::configure::{Accessibility, ConfigurationBuilder, PdfVersion};
use krilla::destination::{Destination, XyzDestination};
use krilla::geom::{Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::{NumberingStyle, Page as PdfPage, PageLabel};
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, SpanTag, TableHeaderScope, Tag,
    TagGroup, TagKind, TagTree,
};
use krilla::{Document, SerializeSettings};

use super::Book;
use super::flow::{self, Anchor, Set};
use super::page::{Child, Ink, Kind, Page, Shape, Tone, Tree};
use crate::drawing::export::ExportError;
use crate::drawing::export::pdf::paint::{INK, Paint, SOFT};
use crate::drawing::export::pdf::{Fonts, Laid, PT, settings};
use crate::drawing::face::drawable;
use crate::drawing::{Anchor as At, Dash, Shape as Drawn};
use crate::geom::P2;

/// What was painted of each number of the structure, links to it included.
type Painted = Vec<Vec<Identifier>>;

/// The book as a file.
pub(super) fn pdf(book: &Book) -> Result<Vec<u8>, ExportError> {
    let fail = |cause: String| ExportError { format: "PDF", title: book.title.clone(), cause };
    let fonts = Fonts::shipped().ok_or_else(|| fail("the shipped font is damaged".into()))?;
    let sheets = flow::sheets(book)?;
    let (pages, set) = flow::pages(book, &sheets);
    let configuration = ConfigurationBuilder::new()
        .with_version(PdfVersion::Pdf17)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|e| fail(format!("{e:?}")))?;
    let mut document =
        Document::new_with(SerializeSettings { configuration, ..SerializeSettings::default() });
    document.set_metadata(
        Metadata::new()
            .title(book.title.clone())
            .description(book.about.clone())
            .language("en".into())
            .creator("chinewright".into()),
    );
    let most = pages.iter().flat_map(|p| &p.inks).filter_map(|i| i.number).max();
    let mut painted: Painted = vec![Vec::new(); most.map_or(0, |m| m + 1)];
    for (k, page) in pages.iter().enumerate() {
        let settings = settings(page.size).ok_or_else(|| fail("a page without size".into()))?;
        let label =
            PageLabel::new(Some(NumberingStyle::Arabic), None, (k as u32 + 1).try_into().ok());
        let mut on = document.start_page_with(settings.with_page_label(label));
        match page.sheet {
            Some((sheet, part)) => {
                let which = format!("page {} of the book", k + 1);
                drawing_page(&mut on, &fonts, page, (&sheets[sheet], part), &which, &mut painted);
            }
            None => words_page(&mut on, &fonts, page, &mut painted),
        }
        links(&mut on, page, &set, &mut painted);
        on.finish();
    }
    document.set_outline(outline(&set.anchors));
    document.set_tag_tree(tags(&set.tree, &mut painted));
    document.finish().map_err(|e| fail(format!("{e:?}")))
}

/// A page that a drawing has for itself: all of it is one thing to who hears it read; further
/// pages of it are there for the eye alone.
fn drawing_page(
    on: &mut PdfPage,
    fonts: &Fonts,
    page: &Page,
    (sheet, part): (&Laid, usize),
    which: &str,
    painted: &mut Painted,
) {
    let number = page.inks.first().and_then(|i| i.number);
    let mut surface = on.surface();
    let identifier = match number {
        Some(_) => surface.start_tagged(ContentTag::Other),
        None => surface.start_tagged(eye_alone(ArtifactType::Page)),
    };
    let mut surface = sheet.paint(part, surface, fonts, which);
    surface.end_tagged();
    if let Some(n) = number {
        painted[n].push(identifier);
    }
}

fn eye_alone(kind: ArtifactType) -> ContentTag<'static> {
    ContentTag::Artifact(Artifact::with_kind(kind))
}

fn words_page(on: &mut PdfPage, fonts: &Fonts, page: &Page, painted: &mut Painted) {
    let mut paint = Paint { surface: on.surface(), fonts, page: page.size };
    for ink in &page.inks {
        let tag = match (&ink.number, &ink.shape) {
            (None, Shape::Words { .. }) => eye_alone(ArtifactType::Footer),
            (None, _) => eye_alone(ArtifactType::Layout),
            (Some(_), Shape::Words { text, bold, .. }) => {
                // Who hears it read hears what it says, whatever the face lacks.
                let lacks = drawable(text, *bold) != text.as_str();
                ContentTag::Span(SpanTag::empty().with_actual_text(lacks.then_some(text)))
            }
            (Some(_), _) => ContentTag::Other,
        };
        let identifier = paint.surface.start_tagged(tag);
        draw(&mut paint, ink);
        paint.surface.end_tagged();
        if let Some(n) = ink.number {
            painted[n].push(identifier);
        }
    }
}

fn draw(paint: &mut Paint, ink: &Ink) {
    let (x, y) = ink.at;
    match &ink.shape {
        Shape::Words { text, height, bold, tone } => {
            paint.fill(colour(*tone));
            paint.text(x, y, *height, 0.0, At::Left, *bold, text);
        }
        Shape::Line { by, width, dotted } => {
            let dash = if *dotted { Dash::Dotted } else { Dash::Solid };
            paint.stroke(INK, *width, dash, 1.0);
            paint.line(&[(x, y), (x + by.0, y + by.1)], false);
        }
        Shape::Square { side } => {
            paint.stroke(INK, 0.25, Dash::Solid, 1.0);
            let (right, low) = (x + side, y + side);
            paint.line(&[(x, y), (right, y), (right, low), (x, low)], true);
        }
        Shape::Drawing { drawing, scale } => {
            let Some((low, high)) = drawing.bounds() else {
                return;
            };
            let place = |p: P2| (x + (p.x - low.x) * scale, y + (high.y - p.y) * scale);
            paint.shapes(drawing, &place, *scale);
            for item in &drawing.items {
                if let Drawn::Text { at, height, angle, anchor, text } = &item.shape {
                    paint.fill(drawing.layer(item.layer).colour);
                    let (x, y) = place(*at);
                    paint.text(x, y, height * scale, *angle, *anchor, false, text);
                }
            }
        }
    }
}

fn colour(tone: Tone) -> [u8; 3] {
    match tone {
        Tone::Ink => INK,
        // Soft words are darker than soft lines: they are read.
        Tone::Soft => SOFT.map(|c| c - 60),
    }
}

/// What of a page leads elsewhere.
fn links(on: &mut PdfPage, page: &Page, set: &Set, painted: &mut Painted) {
    for ink in &page.inks {
        let (Some((to, _)), Some(n), Shape::Words { text, height, bold, .. }) =
            (&ink.link, ink.number, &ink.shape)
        else {
            continue;
        };
        let Some((_, anchor)) = set.anchors.iter().find(|(name, _)| name == to) else {
            continue;
        };
        let wide = crate::drawing::face::width(text, *height, *bold);
        let (x, y) = ink.at;
        let rect = Rect::from_ltrb(
            (x * PT) as f32,
            ((y - 1.2 * height) * PT) as f32,
            ((x + wide) * PT) as f32,
            ((y + 0.4 * height) * PT) as f32,
        );
        if let Some(rect) = rect {
            let target = Target::Destination(Destination::Xyz(place_of(anchor)));
            let said = format!("to {}", anchor.words);
            let link = Annotation::new_link(LinkAnnotation::new(rect, target), Some(said));
            painted[n].push(on.add_tagged_annotation(link));
        }
    }
}

/// A little above where a heading stands.
fn place_of(anchor: &Anchor) -> XyzDestination {
    let down = (anchor.down - 3.0).max(0.0);
    XyzDestination::new(anchor.page, Point::from_xy(0.0, (down * PT) as f32))
}

/// Bookmarks: chapters, and what stands in them.
fn outline(anchors: &[(String, Anchor)]) -> Outline {
    let mut outline = Outline::new();
    let mut chapter: Option<OutlineNode> = None;
    for (_, a) in anchors.iter().filter(|(_, a)| a.level <= 2) {
        let node = OutlineNode::new(a.words.clone(), place_of(a));
        match (&mut chapter, a.level) {
            (Some(c), 2) => c.push_child(node),
            (open, _) => {
                if let Some(done) = open.replace(node) {
                    outline.push_child(done);
                }
            }
        }
    }
    if let Some(last) = chapter {
        outline.push_child(last);
    }
    outline
}

/// The structure, with what was painted of it.
fn tags(tree: &Tree, painted: &mut Painted) -> TagTree {
    let mut out = TagTree::new().with_lang(Some("en".into()));
    for root in &tree.roots {
        out.push(group(tree, *root, painted));
    }
    out
}

fn group(tree: &Tree, node: usize, painted: &mut Painted) -> TagGroup {
    let (kind, children) = &tree.nodes[node];
    let mut out = TagGroup::new(tag_of(kind));
    for child in children {
        match child {
            Child::Node(n) => out.push(group(tree, *n, painted)),
            Child::Ink(n) => {
                for identifier in painted.get_mut(*n).map(std::mem::take).into_iter().flatten() {
                    out.push(identifier);
                }
            }
        }
    }
    out
}

fn tag_of(kind: &Kind) -> TagKind {
    match kind {
        Kind::Heading { level, words } => {
            let level =
                std::num::NonZeroU16::new(u16::from(*level)).unwrap_or(std::num::NonZeroU16::MIN);
            Tag::Hn(level, Some(words.clone())).into()
        }
        Kind::Paragraph => Tag::P.into(),
        Kind::List => Tag::L(ListNumbering::Disc).into(),
        Kind::Item => Tag::LI.into(),
        Kind::Label => Tag::Lbl.into(),
        Kind::Body => Tag::LBody.into(),
        Kind::Table => Tag::Table.into(),
        Kind::Row => Tag::TR.into(),
        Kind::Head => Tag::TH(TableHeaderScope::Column).into(),
        Kind::Cell => Tag::TD.into(),
        Kind::Figure { seen } => Tag::Figure(Some(seen.clone())).into(),
        Kind::Caption => Tag::Caption.into(),
        Kind::Link => Tag::Link.into(),
        Kind::Contents => Tag::TOC.into(),
        Kind::ContentsItem => Tag::TOCI.into(),
    }
}
