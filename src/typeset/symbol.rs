//! A QR symbol with its caption.
//!
//! Level M survives a crease or a drop of water; modules of 0.4 mm are read by any phone from a laser print.

use super::lines::{broken, leading};
use super::pen::{Pen, Style};
use super::setting::Setting;
use super::symbol_code::{CAPACITY, Symbols};
use crate::compose::block::Symbol;
use crate::ground::{Finding, Findings, Length, Rule};
use crate::sheet::{Mark, Modules, Point, Size};

/// A payload that makes a symbol too fine for the space.
pub static CODE_TOO_DENSE: Rule = Rule::error(
    "code-too-dense",
    "ISO/IEC 18004 (symbol sizes); least module of 0.4 mm is this program's own",
    r#"
Finds: a QR symbol whose text needs modules smaller than 0.4 mm to fit its place.
Costs: a phone that cannot read the symbol when it is wanted most.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
confirmed = 2026-10-01
role = ["Coordinator of the eastern district and of all its hospitals Coordinator of the eastern district and of all its hospitals Coordinator of the eastern district and of all its hospitals Coordinator of the eastern district and of all its hospitals Coordinator of the eastern district and of all its hospitals"]   # code-too-dense
phone = [{ number = "+1 406 555 0102", audience = "team", confirmed = 2026-10-01 }]

[[document]]
id = "contacts"
kind = "contact-card"
audience = "team"
layout = "card"
```
Right: write a shorter function, or choose a larger layout.
"#,
);

/// What phones read from paper; larger is no better.
const MODULE: Length = Length::hundredths_mm(50);
const LEAST_MODULE: Length = Length::hundredths_mm(40);
/// White around the symbol, in modules (ISO/IEC 18004, 6.3.8).
const QUIET: i64 = 4;
/// A narrower caption stands below.
const LEAST_CAPTION: Length = Length::mm(20);

/// With what symbols are set.
pub(super) struct SymbolTools<'a> {
    /// Writes captions.
    pub pen: &'a Pen,
    /// The symbols of the order.
    pub symbols: &'a Symbols,
    /// How captions look.
    pub caption: Style,
}

/// Sets a symbol with its caption to the right, or below where there is no room. `None` when it does not fit into `room`, or with a finding when
/// the payload is too long for the width.
pub(super) fn symbol_setting(
    tools: &SymbolTools<'_>,
    block: &Symbol,
    room: Size,
    found: &mut Findings,
) -> Option<Setting> {
    let place = room.width.min(room.height);
    let payload = block.payload.words();
    let code = tools.symbols.of(&payload);
    let side = code.as_ref().and_then(|code| i64::try_from(code.side).ok());
    let Some((code, side)) = code.zip(side).filter(|(_, side)| LEAST_MODULE * (*side + 2 * QUIET) <= place) else {
        if LEAST_MODULE * (17 + 4 + 2 * QUIET) <= place {
            found.push(too_dense(block, place));
        }
        return None;
    };
    let cells = side + 2 * QUIET;
    let module = Length::hundredths_mm(place.as_grains() / cells / 72).min(MODULE);
    let at = Point { x: module * QUIET, y: module * QUIET };
    let symbol = Modules { at, module, side: code.side, dark: code.dark.clone(), payload };
    let mut setting = Setting { marks: vec![Mark::Modules(symbol)], height: module * cells };
    caption(tools, block, &mut setting, room.width)?;
    (setting.height <= room.height).then_some(setting)
}

/// None when a word is wider than the place beside or below the symbol.
fn caption(tools: &SymbolTools<'_>, block: &Symbol, setting: &mut Setting, width: Length) -> Option<()> {
    let SymbolTools { pen, caption: style, .. } = *tools;
    let symbol = setting.height;
    let is_beside = width - symbol >= LEAST_CAPTION;
    let left = if is_beside { symbol } else { Length::ZERO };
    // Level with the symbol's own edge, inside its quiet zone.
    let top = if is_beside { symbol.fraction(QUIET, 40) } else { symbol };
    let mut baseline = top + style.capital();
    for line in broken(pen, &block.caption, style, width - left)? {
        setting.marks.extend(line.place(pen, Point { x: left, y: baseline }).into_iter().map(Mark::Glyphs));
        setting.height = setting.height.max(baseline + style.tail());
        baseline += leading(style.size);
    }
    Some(())
}

fn too_dense(block: &Symbol, place: Length) -> Finding {
    let modules = place.as_grains() / LEAST_MODULE.as_grains() - 2 * QUIET;
    let version = usize::try_from((modules - 17) / 4).unwrap_or_default().min(CAPACITY.len());
    let limit = version.checked_sub(1).and_then(|n| CAPACITY.get(n)).copied().unwrap_or_default();
    let length = block.payload.words().len();
    let message = format!("the QR symbol \"{}\" holds {length} bytes, and {limit} fit here", block.caption.words());
    Finding::new(&CODE_TOO_DENSE, block.caption.span, message)
        .label("too much for one symbol")
        .note(format!("modules of 0.40 mm and a white margin of 4 modules must fit into {place}"))
        .help("choose a larger layout, or put less into one symbol")
}

#[cfg(test)]
mod tests {
    use super::{SymbolTools, symbol_setting};
    use crate::compose::block::{Role, Symbol, Text};
    use crate::ground::{Findings, Length};
    use crate::sheet::{Mark, Size};
    use crate::typeset::pen::{Pen, Style};
    use crate::typeset::setting::Setting;
    use crate::typeset::symbol_code::Symbols;

    const CAPTION: Style = Style::regular(160, Role::Small);

    fn symbol(length: usize) -> Symbol {
        Symbol { payload: Text::own("a".repeat(length)), caption: Text::own("All channels as text") }
    }

    /// A symbol in a place of 60 by 100 mm.
    fn set(symbol: &Symbol, found: &mut Findings) -> Option<Setting> {
        let (pen, symbols) = (Pen::new(), Symbols::default());
        let tools = SymbolTools { pen: &pen, symbols: &symbols, caption: CAPTION };
        symbol_setting(&tools, symbol, Size { width: Length::mm(60), height: Length::mm(100) }, found)
    }

    /// A word wider than its place used to stick out of the panel unseen.
    #[test]
    fn a_caption_that_is_wider_than_its_place_is_refused() {
        let symbol = Symbol { payload: Text::own("a"), caption: Text::own("W".repeat(60)) };
        let mut found = Findings::default();
        assert!(set(&symbol, &mut found).is_none());
    }

    #[test]
    fn the_longest_payload_that_fits_has_modules_of_the_least_size() {
        // 0.4 mm modules: 60 mm hold 150, less 8 of margin are 142, so version 31 of 141 modules and 1452 bytes.
        let mut found = Findings::default();
        let setting = set(&symbol(1452), &mut found).unwrap();
        assert!(found.is_empty());
        let Mark::Modules(modules) = &setting.marks[0] else { panic!("symbol first") };
        assert_eq!((modules.side, modules.module), (141, Length::hundredths_mm(40)));
        assert!(set(&symbol(1453), &mut found).is_none());
        let message = &found.iter().next().unwrap().message;
        assert!(message.contains("1453 bytes") && message.contains("1452 fit"), "{message}");
    }
}
