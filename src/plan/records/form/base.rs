//! What a form has from another: the blocks of its base in their frame, then its own below it.

use super::numbers::{check_numbers, check_read_aloud};
use super::{Form, FormField, FormLine};
use crate::ground::{At, Finding, Findings, Id, Span, nearest};
use crate::plan::register::{Register, subject};
use crate::plan::rules::{FORM_BASE_CIRCULAR, FORM_BASE_UNKNOWN};

/// Gives every form the blocks of its base, and that one's of its own. A form without a base that can be had stays as written, and
/// says so.
pub(in crate::plan) fn take_bases(own: &mut Register<Form>, of_program: &Register<Form>, found: &mut Findings) {
    let with_base: Vec<Form> = own.iter().filter(|form| form.base.is_some()).cloned().collect();
    let mut whole = Vec::new();
    for form in with_base {
        match lines_of(&form, own, of_program, &mut vec![form.id.value.clone()]) {
            Ok(lines) => {
                let read_aloud = read_aloud_of(&form, own, of_program);
                let whole_form = Form { lines, read_aloud, ..form };
                let on = subject(&whole_form);
                check_numbers(whole_form.fields(), &on, found);
                check_read_aloud(&whole_form, &on, found);
                whole.push(whole_form);
            }
            Err(Some(finding)) => found.push(finding.on(subject(&form))),
            // Told with the first form of its circle.
            Err(None) => {}
        }
    }
    whole.into_iter().for_each(|form| own.put(form));
}

/// The form that another names as its base; spans of a form of the program point into no file of the run.
fn base_of<'a>(form: &Form, own: &'a Register<Form>, of_program: &'a Register<Form>) -> Option<(&'a Form, bool)> {
    let base = form.base.as_ref()?;
    // A form of the plan under the name of one of the program may have that one as its base.
    let is_own_name = base.value == form.id.value && of_program.named(&base.value).is_some();
    let of_plan = own.named(&base.value).filter(|_| !is_own_name).map(|base| (base, false));
    of_plan.or_else(|| of_program.named(&base.value).map(|base| (base, true)))
}

#[expect(clippy::result_large_err, reason = "a finding is made once for a form, and only where it has a fault")]
fn lines_of(
    form: &Form,
    own: &Register<Form>,
    of_program: &Register<Form>,
    above: &mut Vec<Id>,
) -> Result<Vec<FormLine>, Option<Finding>> {
    let Some(name) = &form.base else { return Ok(form.lines.clone()) };
    let Some((base, is_of_program)) = base_of(form, own, of_program) else {
        // Told with the form that names it.
        return Err((above.len() == 1).then(|| unknown(form, name, own, of_program)));
    };
    if !is_of_program && above.contains(&base.id.value) {
        let is_first = above.first() == Some(&base.id.value) && above.iter().min() == Some(&base.id.value);
        if !is_first {
            return Err(None);
        }
        let way: Vec<&str> = above.iter().chain([&base.id.value]).map(Id::as_str).collect();
        let what = format!("form {} is its own base: {}", base.id.value, way.join(" has "));
        let finding = Finding::new(&FORM_BASE_CIRCULAR, name.span, what).label("leads back to itself");
        return Err(Some(finding.help("leave `base` out of one of them, and write its fields out")));
    }
    let mut lines = if is_of_program {
        base.lines.iter().map(without_place).collect()
    } else {
        above.push(base.id.value.clone());
        lines_of(base, own, of_program, above)?
    };
    let added = form.lines.iter().enumerate();
    lines.extend(added.map(|(index, line)| FormLine { is_added: index == 0, ..line.clone() }));
    Ok(lines)
}

/// What a form reads aloud is its own, or that of its base where it says nothing.
fn read_aloud_of(
    form: &Form,
    own: &Register<Form>,
    of_program: &Register<Form>,
) -> Vec<At<crate::plan::fields::ReadStretch>> {
    let (mut form, mut left) = (form, own.len() + 1);
    while form.read_aloud.is_empty() && left > 0 {
        let Some((base, is_of_program)) = base_of(form, own, of_program) else { return Vec::new() };
        if is_of_program {
            return base.read_aloud.iter().map(|stretch| At::new(stretch.value, Span::NOWHERE)).collect();
        }
        (form, left) = (base, left - 1);
    }
    form.read_aloud.clone()
}

fn unknown(form: &Form, name: &At<Id>, own: &Register<Form>, of_program: &Register<Form>) -> Finding {
    let known = || own.ids().chain(of_program.ids()).filter(|id| **id != form.id.value).map(Id::as_str);
    let what = format!("form {} has the base \"{}\", and no form is called this", form.id.value, name.value);
    let finding = Finding::new(&FORM_BASE_UNKNOWN, name.span, what).label("names no form");
    match nearest(name.as_str(), known()) {
        Some(near) if stands_on(form, near, own, of_program) => finding.did_you_mean(near),
        Some(near) => finding.help(format!(
            "the nearest is \"{near}\", whose blocks have numbers that this form gives its own: name it once they have others, or leave `base` out"
        )),
        None => finding.help(
            "name a form of the plan or of `fieldsheaf form --list`; a published form in words stands in `follows`",
        ),
    }
}

/// Whether the blocks of a form can stand below those of another.
fn stands_on(form: &Form, base: &str, own: &Register<Form>, of_program: &Register<Form>) -> bool {
    let based = Form { base: Id::parse(base).ok().map(|id| At::new(id, Span::NOWHERE)), ..form.clone() };
    let Ok(lines) = lines_of(&based, own, of_program, &mut vec![form.id.value.clone()]) else { return false };
    let read_aloud = read_aloud_of(&based, own, of_program);
    let (whole, mut faults) = (Form { lines, read_aloud, ..based }, Findings::default());
    check_numbers(whole.fields(), &subject(&whole), &mut faults);
    check_read_aloud(&whole, &subject(&whole), &mut faults);
    faults.iter().next().is_none()
}

/// A line of a form of the program, in a form of the plan.
fn without_place(line: &FormLine) -> FormLine {
    let field = |field: &FormField| FormField {
        mark: field.mark.map(|mark| At::new(mark.value, Span::NOWHERE)),
        label: At::new(field.label.value.clone(), Span::NOWHERE),
        help: field.help.as_ref().map(|help| At::new(help.value.clone(), Span::NOWHERE)),
        ..field.clone()
    };
    let title = line.title.as_ref().map(|title| At::new(title.value.clone(), Span::NOWHERE));
    FormLine {
        title,
        begins_page: line.begins_page,
        is_added: line.is_added,
        fields: line.fields.iter().map(field).collect(),
    }
}
