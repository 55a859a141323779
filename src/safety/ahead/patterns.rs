//! Works out the patterns of some groups.

use super::Fault;
use super::classes::Classes;
use super::demands::Demands;
use super::groups::InFile;
use super::notation::Reader;
use crate::safety::groups::Effect;
use crate::safety::groups::Group;
use crate::safety::parts::Span;
use crate::safety::patterns::Join;
use crate::safety::patterns::Pattern;
use crate::safety::patterns::Patterns;
use crate::safety::patterns::Side;

/// The patterns of some groups; which words are the commonest depends on what they are looked for in.
pub(super) fn patterns(written: &[InFile], classes: &Classes, commonest: &str) -> Result<Patterns, Fault> {
    let groups: Vec<Group> = written.iter().map(InFile::group).collect();
    let mut reader = Reader::new(classes);
    let mut rows = Vec::new();
    for (index, group) in written.iter().enumerate() {
        for row in &group.patterns {
            let read = reader.pattern(row);
            rows.push(Pattern {
                group: index,
                spoken: groups[index].spoken,
                row: read.map_err(|fault| Fault::Row(row.clone(), fault))?,
                demands: Span::default(),
            });
        }
    }
    let mut patterns = Patterns {
        joins: joins(written, &groups)?,
        groups,
        rows,
        parts: reader.into_parts(),
        ..Patterns::default()
    };
    find_demands(&mut patterns, written, &classes.common, commonest)?;
    Ok(patterns)
}

fn find_demands(
    patterns: &mut Patterns,
    written: &[InFile],
    common: &str,
    commonest: &str,
) -> Result<(), Fault> {
    let demands = Demands::new(&patterns.parts, common, commonest);
    let mut wanted_by = Vec::new();
    let rows = written.iter().flat_map(|group| &group.patterns);
    for (pattern, row) in patterns.rows.iter_mut().zip(rows) {
        let all = demands.of(pattern.row);
        let (rarest, others) = all.split_first().ok_or_else(|| Fault::NoDemand(row.clone()))?;
        wanted_by.push(*rarest);
        let from = patterns.demands.len();
        patterns.demands.extend_from_slice(others);
        pattern.demands = Span::new(from..patterns.demands.len());
    }
    patterns.wanting = demands.wanting(&wanted_by);
    Ok(())
}

fn joins(written: &[InFile], groups: &[Group]) -> Result<Vec<Join>, Fault> {
    let side = |names: &Vec<String>| {
        let mut side = Side::default();
        for name in names {
            if name == "*" {
                side.any = true;
                continue;
            }
            let place = groups
                .iter()
                .position(|group| group.name == *name && group.effect == Effect::Sign)
                .ok_or_else(|| Fault::Join(name.clone()))?;
            side.signs.insert(place);
        }
        Ok(side)
    };
    groups
        .iter()
        .enumerate()
        .filter(|(_, group)| group.effect == Effect::Join)
        .map(|(index, group)| match written[index].of.as_slice() {
            [one, other] => Ok(Join {
                group: index,
                sides: [side(one)?, side(other)?],
            }),
            _ => Err(Fault::Join(group.name.clone())),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::safety::ahead::groups::groups;

    fn fault(rest: &str) -> Option<Fault> {
        let file = format!(
            "[[group]]\nname = \"a\"\nmeaning = \"b\"\nsource = \"c\"\ntopic = \"suicide\"\nlevel = \"stop\"\n{rest}\n"
        );
        let read = groups(&[&file]).expect("a group");
        patterns(&read, &Classes::default(), "").err()
    }

    #[test]
    fn a_row_that_cannot_be_looked_for_is_refused() {
        assert_eq!(fault("patterns = [\"end it all\"]"), None);
        assert_eq!(
            fault("patterns = [\"end?\"]"),
            Some(Fault::NoDemand("end?".to_owned()))
        );
        assert!(matches!(
            fault("patterns = [\"{nothing}\"]"),
            Some(Fault::Row(..))
        ));
    }

    #[test]
    fn a_join_of_what_is_no_sign_is_refused() {
        for of in ["[[\"a\"], [\"*\"]]", "[[\"*\"]]", "[[\"b\"], [\"*\"]]"] {
            let join = fault(&format!("effect = \"join\"\nof = {of}"));
            assert!(matches!(join, Some(Fault::Join(_))), "{of}: {join:?}");
        }
        assert_eq!(fault("effect = \"join\"\nof = [[\"*\"], [\"*\"]]"), None);
    }
}
