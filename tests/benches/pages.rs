//! Pages a second of personal pocket cards, and what the memory grows by: `cargo bench --bench pages`.
//!
//! Beside it, in the same run, the least that any writer has to do: deflate the same content of as many pages and put it into
//! files with `pdf-writer`. Machines are noisy: read the ratio, not the figures.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::cast_precision_loss,
    reason = "a bench measures, and says so"
)]

use pdf_writer::{Finish, Pdf, Rect, Ref};
use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const HEAD: &str = r#"
[plan]
title = "Many cards"
short = "MANY"
team = "T"
profile = "us"
invented = true
time-zone = "America/Denver"
[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "m0"
approved-by = "m0"
[[document]]
id = "card"
kind = "channel-card"
each = "member"
audience = "team"
"#;

/// A plan of 33 channels and so many members: two sides of eight panels for each.
fn plan(folder: &Path, members: usize) {
    let mut text = HEAD.to_owned();
    for index in 0..members {
        writeln!(text, "[[member]]\nid = \"m{index}\"\nname = \"Member {index}\"\nconfirmed = 2026-10-01").unwrap();
    }
    for index in 0..33 {
        let spoken = index + 1;
        writeln!(
            text,
            "[[channel]]\nid = \"c{index}\"\nrow = {spoken}\nname = \"CH {index}\"\nspoken = \"{spoken} Channel\"\nsimplex = \"146.{:04} MHz\"\nverified = {{ on = 2026-10-01, by = \"m0\" }}",
            4000 + 75 * index
        )
        .unwrap();
    }
    std::fs::create_dir_all(folder).unwrap();
    std::fs::write(folder.join("plan.toml"), text).unwrap();
}

/// Time and greatest memory of a whole build, in kilobytes where the system tells it.
fn build(plan: &Path, out: &Path) -> (Duration, Option<u64>) {
    let start = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"))
        .arg("build")
        .arg(plan)
        .arg("--out")
        .arg(out)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    let exit = loop {
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        peak = peak.max(line.and_then(|line| line.split_whitespace().next()?.parse().ok()));
        if let Some(exit) = child.try_wait().unwrap() {
            break exit;
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    assert!(exit.success());
    (start.elapsed(), peak)
}

/// The content of every page of a file, as it is before it is deflated.
fn contents(pdf: &[u8]) -> Vec<Vec<u8>> {
    let read = lopdf::Document::load_mem(pdf).unwrap();
    read.page_iter().map(|page| read.get_page_content(page)).collect()
}

/// Files of the same content and nothing else: no plan, no shaping, no fonts.
fn least(pages: &[Vec<u8>], files: usize, out: &Path) -> Duration {
    let start = Instant::now();
    std::fs::create_dir_all(out).unwrap();
    for file in 0..files {
        let mut pdf = Pdf::new();
        let (catalog, tree) = (Ref::new(1), Ref::new(2));
        let page_id = |index: usize| Ref::new(3 + 2 * i32::try_from(index).unwrap());
        pdf.catalog(catalog).pages(tree);
        pdf.pages(tree).kids((0..pages.len()).map(page_id)).count(i32::try_from(pages.len()).unwrap());
        for (index, content) in pages.iter().enumerate() {
            let id = page_id(index);
            let stream = Ref::new(id.get() + 1);
            pdf.page(id).parent(tree).media_box(Rect::new(0.0, 0.0, 792.0, 612.0)).contents(stream).finish();
            let deflated = miniz_oxide::deflate::compress_to_vec_zlib(content, 3);
            pdf.stream(stream, &deflated).filter(pdf_writer::Filter::FlateDecode);
        }
        std::fs::write(out.join(format!("{file}.pdf")), pdf.finish()).unwrap();
    }
    start.elapsed()
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    for members in [500, 5000] {
        let (plan_folder, out) =
            (folder.path().join(format!("plan-{members}")), folder.path().join(format!("kit-{members}")));
        plan(&plan_folder, members);
        let (time, peak) = build(&plan_folder, &out);
        let sample = std::fs::read(out.join("card-m0.pdf")).unwrap();
        let pages = contents(&sample);
        let count = members * pages.len();
        let bound = least(&pages, members, &folder.path().join(format!("least-{members}")));
        let rate = count as f64 / time.as_secs_f64();
        println!(
            "{count} pages: {:.2} s, {rate:.0} pages a second, peak {} MB, {:.1} kB a page; least {:.2} s on one thread, {:.1} times faster",
            time.as_secs_f64(),
            peak.map_or_else(|| "?".to_owned(), |kilobytes| (kilobytes / 1024).to_string()),
            sample.len() as f64 / pages.len() as f64 / 1000.0,
            bound.as_secs_f64(),
            time.as_secs_f64() / bound.as_secs_f64()
        );
    }
}
