//! How long long tables take to be read: `cargo bench --bench tables`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    reason = "a bench measures, and says so"
)]

use std::path::Path;
use std::time::Instant;

/// A plan with 100,000 posts in a table.
fn long(folder: &Path, name: &str, bytes: &[u8]) -> String {
    let head = "[plan]\ntitle = \"T\"\nshort = \"T\"\nteam = \"T\"\nprofile = \"us\"\ntime-zone = \"America/Denver\"\n\
        [edition]\nnumber = 1\nissued = 2026-11-20\nvalid-from = 2026-12-01\nreview-by = 2027-06-01\nprepared-by = \"qra\"\napproved-by = \"qra\"\n\
        [[member]]\nid = \"qra\"\nname = \"Ines Varga\"\n";
    let table = format!(
        "[posts]\nfile = \"{name}\"\ncolumns = {{ id = \"Id\", name = \"Name\", from = \"From\", to = \"To\" }}\nignore = [\"A\", \"B\", \"C\", \"D\"]\n"
    );
    let plan = folder.join(name.replace('.', "-"));
    std::fs::create_dir(&plan).unwrap();
    std::fs::write(plan.join("plan.toml"), format!("{head}{table}")).unwrap();
    std::fs::write(plan.join(name), bytes).unwrap();
    plan.to_str().unwrap().to_owned()
}

/// How long a table of 100,000 rows of eight cells takes to be read, in this process.
fn tables(folder: &Path) {
    let headings = ["Id", "Name", "From", "To", "A", "B", "C", "D"];
    let row = |n: u32| {
        [
            format!("p{n}"),
            format!("Post {n}"),
            "2026-12-05 08:00".into(),
            "2026-12-05 20:00".into(),
            n.to_string(),
            (n % 7).to_string(),
            "x".into(),
            "y".into(),
        ]
    };
    let mut csv = headings.join(",") + "\n";
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, headings).unwrap();
    for n in 1..=100_000 {
        let cells = row(n);
        csv += &(cells.join(",") + "\n");
        for (column, cell) in (0_u16..).zip(&cells) {
            match cell.parse::<f64>() {
                Ok(number) => sheet.write(n, column, number).unwrap(),
                Err(_) => sheet.write(n, column, cell).unwrap(),
            };
        }
    }
    let xlsx = book.save_to_buffer().unwrap();
    for (name, bytes) in [("p.csv", csv.as_bytes()), ("p.xlsx", xlsx.as_slice())] {
        let plan = long(folder, name, bytes);
        let (world, root) = fieldsheaf::cli::DiskWorld::open(Path::new(&plan)).unwrap();
        let start = Instant::now();
        let mut found = fieldsheaf::ground::Findings::default();
        let mut records = fieldsheaf::source::read(&world, &root, &mut found).unwrap();
        let built = fieldsheaf::plan::build(&world, &mut records, &mut found);
        let time = start.elapsed().as_millis();
        assert_eq!((built.posts.len(), found.errors()), (100_000, 0));
        println!("{:24} {time:6} ms    aim: under 2000 ms", format!("100,000 rows of {}", &name[2..]));
    }
    println!("{:24} {:6} MB at most", "memory of both", peak());
}

/// The most memory that this process had, where the system tells.
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|kilobytes| kilobytes.parse::<u64>().ok()).unwrap_or_default() / 1024
}

fn main() {
    tables(tempfile::tempdir().unwrap().path());
}
