//! Two folders exchanged in one step, on the systems that have it.
#![expect(
    clippy::disallowed_methods,
    reason = "called by `calls.rs` alone, which is the one place that reads and writes the disk"
)]

use std::io;
use std::path::Path;

#[cfg(target_os = "linux")]
mod linux {
    use super::{Path, io};
    use rustix::fs::{CWD, RenameFlags};
    use std::collections::BTreeMap;
    use std::os::unix::fs::MetadataExt;

    /// Room for the names of a folder's further rights, and for one of them; who has more of them is served without an exchange.
    const ROOM: usize = 1 << 16;

    pub fn make_like(other: &Path, folder: &Path) -> io::Result<()> {
        if std::env::current_dir()?.starts_with(other) {
            return Err(io::ErrorKind::Unsupported.into());
        }
        let mode = std::fs::metadata(other)?.permissions();
        std::fs::create_dir(folder)?;
        let is_alike = std::fs::set_permissions(folder, mode).and_then(|()| Ok(likeness(other)? == likeness(folder)?));
        match is_alike {
            Ok(true) => Ok(()),
            unlike => {
                let _ = std::fs::remove_dir(folder);
                Err(unlike.err().unwrap_or_else(|| io::ErrorKind::Unsupported.into()))
            }
        }
    }

    pub fn exchange(one: &Path, other: &Path) -> io::Result<()> {
        Ok(rustix::fs::renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
    }

    /// What two folders have alike that can stand for each other.
    #[derive(PartialEq, Eq)]
    struct Likeness {
        /// Disk, owner, group and mode.
        own: [u64; 4],
        /// Further rights by their names, such as the list of those who may write.
        rights: BTreeMap<Vec<u8>, Vec<u8>>,
    }

    fn likeness(folder: &Path) -> io::Result<Likeness> {
        let about = std::fs::symlink_metadata(folder)?;
        let own = [about.dev(), about.uid().into(), about.gid().into(), about.mode().into()];
        let mut names = vec![0; ROOM];
        let length = match rustix::fs::listxattr(folder, &mut names) {
            Err(rustix::io::Errno::NOTSUP) => 0,
            length => length?,
        };
        let mut rights = BTreeMap::new();
        for name in names.get(..length).unwrap_or_default().split(|byte| *byte == 0).filter(|name| !name.is_empty()) {
            let mut value = vec![0; ROOM];
            let length = rustix::fs::getxattr(folder, name, &mut value)?;
            value.truncate(length);
            rights.insert(name.to_owned(), value);
        }
        Ok(Likeness { own, rights })
    }
}

#[cfg(target_os = "linux")]
pub use linux::{exchange, make_like};

/// None here.
#[cfg(not(target_os = "linux"))]
pub fn make_like(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// None here.
#[cfg(not(target_os = "linux"))]
pub fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}
