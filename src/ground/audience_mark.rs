//! Who may read a value or a sheet.

use super::{Id, Refusal};
use std::fmt;

/// `public` < `team` < `leads` < `coordinator`; beside them the agency audiences, `agency/mercy-health`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Audience {
    /// Anybody.
    Public,
    /// Members of the team.
    Team,
    /// Net controls and team leaders.
    Leads,
    /// The coordinator alone.
    Coordinator,
    /// One served agency, and the leads and coordinator with it.
    Agency(Id),
}

impl Audience {
    /// Reads an audience.
    ///
    /// # Errors
    /// When it is none of the four words nor `agency/` and an id.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        match text {
            "public" => Ok(Self::Public),
            "team" => Ok(Self::Team),
            "leads" => Ok(Self::Leads),
            "coordinator" => Ok(Self::Coordinator),
            _ => Self::agency(text),
        }
    }

    /// No agency is called as the others are: its copy would say "team copy".
    fn agency(text: &str) -> Result<Self, Refusal> {
        let id = text.strip_prefix("agency/");
        if let Some(word) = id.filter(|id| Self::parse(id).is_ok()) {
            let help = format!("write {word}, or give the agency another id");
            return Err(Refusal::new(format!("\"{word}\" is an audience and no agency's id")).help(help));
        }
        id.and_then(|id| Id::parse(id).ok()).map(Self::Agency).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not an audience"))
                .help("write public, team, leads, coordinator or agency/ and the agency's id")
        })
    }

    /// Whether a reader of this audience may read what is marked for `mark`.
    ///
    /// An agency reads what is public and what is its own; leads and the coordinator read every agency's.
    #[must_use]
    pub fn may_read(&self, mark: &Self) -> bool {
        match (self, mark) {
            (_, Self::Public) | (Self::Coordinator, _) => true,
            (Self::Agency(own), Self::Agency(other)) => own == other,
            (Self::Agency(_) | Self::Public, _) => false,
            (Self::Team, mark) => *mark == Self::Team,
            (Self::Leads, mark) => *mark != Self::Coordinator,
        }
    }
}

impl fmt::Display for Audience {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Public => f.write_str("public"),
            Self::Team => f.write_str("team"),
            Self::Leads => f.write_str("leads"),
            Self::Coordinator => f.write_str("coordinator"),
            Self::Agency(id) => write!(f, "agency/{id}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Audience;

    #[test]
    fn no_agency_is_called_as_another_audience() {
        let refusal = Audience::parse("agency/team").unwrap_err();
        assert_eq!(refusal.what, "\"team\" is an audience and no agency's id");
        assert_eq!(Audience::parse("agency/teams").unwrap().to_string(), "agency/teams");
    }
}
