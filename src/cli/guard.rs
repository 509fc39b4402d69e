//! The last net: a bug in the program is said as one, and never leaves half an output.

use super::say;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};

/// Exit code of a bug.
const BUG: u8 = 3;

/// Runs `work`; a panic in it is reported with its place, and gives exit code 3.
pub fn guarded(work: impl FnOnce() -> u8) -> u8 {
    let before = take_hook();
    set_hook(Box::new(|panic| {
        let place = panic.location().map_or_else(|| "an unknown place".to_owned(), ToString::to_string);
        let said = panic.payload_as_str().unwrap_or("no message");
        say::err(&format!(
            "error: a bug in fieldsheaf {}, at {place}: {said}\nhelp: please report this line with the plan that brought it about; nothing was written\n",
            env!("CARGO_PKG_VERSION")
        ));
        // A program that is built without unwinding, as what is handed out is, ends here.
        if cfg!(panic = "abort") {
            std::process::exit(BUG.into());
        }
    }));
    let code = catch_unwind(AssertUnwindSafe(work)).unwrap_or(BUG);
    set_hook(before);
    code
}

#[cfg(test)]
mod tests {
    use super::guarded;

    #[test]
    fn a_panic_is_exit_code_three_and_no_panic_keeps_its_own() {
        assert_eq!((guarded(|| panic!("on purpose")), guarded(|| 1)), (3, 1));
    }
}
