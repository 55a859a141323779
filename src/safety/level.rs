//! What a finding can be: how urgent, of what kind, and about whom.

use serde::Deserialize;
use serde::Serialize;

/// Which message the words call for. The order is the order of urgency; it says nothing about a person's risk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Nothing was found. This is not a sign of safety.
    None,
    /// One quiet line that help is at `/crisis`.
    Quiet,
    /// The dialogue pauses and shows lines for the region.
    Pause,
    /// The dialogue stops, shows lines and emergency number, and asks for a deliberate key to go on.
    Stop,
    /// As `Stop`, with the emergency number first.
    Emergency,
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Topic {
    /// Suicidal words.
    Suicide,
    /// Hurting oneself.
    SelfInjury,
    /// Something taken, or about to be taken.
    Overdose,
    /// Hurting someone else.
    HarmToOthers,
    /// Being hurt, threatened or afraid of someone.
    Abuse,
    /// Starving, purging.
    Eating,
    /// Hearing or seeing what others do not.
    Psychosis,
    /// Withdrawal from drink or sedatives.
    Withdrawal,
    /// Around a birth, harm to a baby.
    Perinatal,
    /// A bodily emergency.
    Medical,
}

/// Whom a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum About {
    /// The person themselves.
    #[serde(rename = "self")]
    Me,
    /// Someone else.
    Other,
}
