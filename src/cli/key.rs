//! A new pair of keys: the secret half in a file of its own, the public half as a record of the plan.

use super::calls::{Calls, Machine};
use super::disk::ROOT;
use super::part::{create, create_closed, failed};
use super::{CommandEnd, say};
use crate::Halt;
use crate::ground::{Bug, Failure, KeyPair};
use std::path::Path;

/// The file of the secret half.
const SECRET: &str = "signing.secret";

/// The file of the public half.
const PUBLIC: &str = "signing.public.toml";

/// What stands above the secret.
pub const SECRET_HEAD: &str =
    "# A secret key of fieldsheaf. Who reads it can sign in your name: keep it out of the plan and of version control.";

/// Makes a pair of keys in a folder. Nothing is written over.
///
/// # Errors
/// When the folder is that of a plan or has such files already, or the machine refuses.
pub fn key(folder: &Path) -> Result<CommandEnd, Halt> {
    let fail = |place: &Path, why: &str| Failure::new(place.display().to_string(), why);
    Machine.make_folder(folder).map_err(|fault| failed(folder, &fault))?;
    let whole = Machine.resolve(folder).map_err(|fault| failed(folder, &fault))?;
    if let Some(plan) = whole.ancestors().find(|above| Machine.at(&above.join(ROOT)).is_ok()) {
        let why = "this is inside a plan's folder, which is copied and kept in version control; name a folder that stays with you";
        return Err(fail(plan, why).into());
    }
    let (secret, public) = (folder.join(SECRET), folder.join(PUBLIC));
    if Machine.at(&public).is_ok() {
        return Err(fail(&public, "a file of this name is there already; name another folder").into());
    }
    let mut chance = [0; 32];
    Machine.chance(&mut chance).map_err(|fault| failed(folder, &fault))?;
    let pair = KeyPair::of_chance(chance).ok_or_else(|| Halt::Bug(Bug::new("the system's chance was all zeros")))?;
    let text = format!("{SECRET_HEAD}\n{}\n", pair.to_secret());
    create_closed(&Machine, &secret, text.as_bytes(), "name another folder")?;
    let record = format!(
        "# The public half of {SECRET}: put this record into the plan, with the id of the member who has the other half.\n\
         [[key]]\nby = \"qra\"\npublic = \"{}\"\n",
        pair.public()
    );
    create(&Machine, &public, record.as_bytes(), "name another folder")?;
    say::out(&format!(
        "{}: the secret half; keep it to yourself\n{}: a record for the plan, with the public half\n",
        say::path(&secret),
        say::path(&public)
    ))?;
    Ok(CommandEnd::Clean)
}
