//! One page of HTML that shows every sheet, panel and finding: no server, no script, nothing fetched.

use crate::ground::Length;
use crate::sheet::{Placement, Size};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use std::fmt::Write;

/// A document on the page.
pub struct ProofDocument<'a> {
    /// Name of its file.
    pub name: &'a str,
    /// Each page: its size, and its picture as PNG.
    pub pages: Vec<(Size, Vec<u8>)>,
    /// Its panels.
    pub panels: &'a [Placement],
}

/// What stands over the documents.
pub struct ProofHead<'a> {
    /// `SORREL edition 7`.
    pub edition: String,
    /// The rule set.
    pub rules: &'a str,
    /// Dots an inch of the pictures.
    pub dpi: u16,
    /// Severity, name and message of each finding.
    pub findings: Vec<(String, &'static str, String)>,
}

const STYLE: &str = "
body{font:15px/1.4 sans-serif;color:#000;background:#fff;margin:2rem auto;max-width:72rem;padding:0 1rem}
h1,h2{border-top:4px solid #000;padding-top:.4rem}
h2{margin-top:3rem}h3{margin:1.2rem 0 .4rem}
table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;padding:.25rem .8rem .25rem 0;border-bottom:1px solid #999}
.row{display:flex;flex-wrap:wrap;gap:1rem;align-items:flex-start}
figure{margin:0}figcaption{font-size:.85rem;padding:.2rem 0;max-width:22rem}
svg.sheet,svg.panel{border:1px solid #999;background:#fff;display:block}
.bar{width:8rem;height:.5rem;border:1px solid #000}.bar i{display:block;height:100%;background:#000}
@media print{h2{break-before:page}}
";

/// A red lamp as a color matrix: the same as in the pictures.
const FILTERS: &str = r#"<svg width="0" height="0" style="position:absolute"><filter id="red" color-interpolation-filters="sRGB"><feColorMatrix values="0.588 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 1 0"/></filter></svg>"#;

/// Writes the page.
#[must_use]
pub fn proof_page(head: &ProofHead<'_>, documents: &[ProofDocument<'_>]) -> String {
    let mut page = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>Proof: {0}</title><style>{STYLE}</style></head><body>\n{FILTERS}\n<h1>Proof: {0}</h1>\n<p>{1}. Sheets at {2} dots an inch, each as printed and under a red headlamp. The sheets are grey throughout: without color nothing is lost. This page is the coordinator's: it holds the sheets of all readers.</p>\n",
        text(&head.edition),
        text(head.rules),
        head.dpi
    );
    findings(&mut page, &head.findings);
    for (index, document) in documents.iter().enumerate() {
        put_document(&mut page, index, document);
    }
    page.push_str("</body></html>\n");
    page
}

fn findings(page: &mut String, findings: &[(String, &'static str, String)]) {
    page.push_str("<h2>Findings</h2>\n");
    if findings.is_empty() {
        page.push_str("<p>None.</p>\n");
        return;
    }
    page.push_str("<table><thead><tr><th>severity</th><th>finding</th><th>what</th></tr></thead><tbody>\n");
    for (severity, name, what) in findings {
        let (severity, what) = (text(severity), text(what));
        put(page, format_args!("<tr><td>{severity}</td><td>{name}</td><td>{what}</td></tr>\n"));
    }
    page.push_str("</tbody></table>\n");
}

fn put_document(page: &mut String, index: usize, document: &ProofDocument<'_>) {
    put(
        page,
        format_args!(
            "<h2>{}</h2>\n<svg width=\"0\" height=\"0\" style=\"position:absolute\"><defs>",
            text(document.name)
        ),
    );
    for (number, (size, png)) in document.pages.iter().enumerate() {
        let (width, height) = (points(size.width), points(size.height));
        let data = STANDARD.encode(png);
        put(
            page,
            format_args!(
                "<image id=\"d{index}s{number}\" width=\"{width}\" height=\"{height}\" preserveAspectRatio=\"none\" href=\"data:image/png;base64,{data}\"/>"
            ),
        );
    }
    page.push_str("</defs></svg>\n");
    for (number, (size, _)) in document.pages.iter().enumerate() {
        put(page, format_args!("<h3>Sheet side {}</h3>\n<div class=\"row\">", number + 1));
        for (filter, words) in [("", "as printed"), (" filter=\"url(#red)\"", "under a red headlamp")] {
            let (width, height) = (points(size.width), points(size.height));
            put(
                page,
                format_args!(
                    "<figure><svg class=\"sheet\" role=\"img\" aria-label=\"{words}\" width=\"34rem\" viewBox=\"0 0 {width} {height}\"><use href=\"#d{index}s{number}\"{filter}/></svg><figcaption>{words}</figcaption></figure>"
                ),
            );
        }
        page.push_str("</div>\n");
    }
    page.push_str("<h3>Panels, in reading order</h3>\n<div class=\"row\">\n");
    for panel in document.panels {
        let (width, height) = (panel.area.width(), panel.area.height());
        let (x, y) = (points(panel.area.left), points(panel.area.top));
        // A turned panel is stood upright about its own middle.
        let turn = if panel.is_turned {
            let (middle_x, middle_y) = (points(panel.area.left + width / 2), points(panel.area.top + height / 2));
            format!(" transform=\"rotate(180 {middle_x} {middle_y})\"")
        } else {
            String::new()
        };
        put(
            page,
            format_args!(
                "<figure><svg class=\"panel\" role=\"img\" aria-label=\"{title}\" width=\"{}\" viewBox=\"{x} {y} {} {}\"><use href=\"#d{index}s{}\"{turn}/></svg><figcaption>{title}{}</figcaption></figure>\n",
                points(width),
                points(width),
                points(height),
                panel.page,
                bar(panel),
                title = text(&panel.name()),
            ),
        );
    }
    page.push_str("</div>\n");
}

/// How full a panel is, in words and as a bar; nothing where nothing flows.
fn bar(panel: &Placement) -> String {
    panel.per_cent().map_or_else(String::new, |part| {
        format!(": {part} % full<div class=\"bar\"><i style=\"width:{part}%\"></i></div>")
    })
}

/// Points with one decimal.
fn points(length: Length) -> String {
    format!("{:.1}", length.to_pt())
}

/// Text safe between tags and in attributes.
fn text(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn put(page: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing to a string does not fail.
    let _ = page.write_fmt(words);
}
