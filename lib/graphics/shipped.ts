/**
 * The templates that are there when nobody brings any: a file as a user would write it.
 * @example
 * readTemplates({ file: 'lines.yaml', text: SHIPPED_TEMPLATES }).problems // → []
 */
export const SHIPPED_TEMPLATES = `# Lines for graphics and for the voice. The first template that holds and fits is used.
change:
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, up from {wasProjected} to {projected} by projection."
    when: { of: team, what: score, board: uneven, way: up }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, down from {wasProjected} to {projected} by projection."
    when: { of: team, what: score, board: uneven, way: down }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, {projected} by projection."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, {even} {each}."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to share {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to share {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, {team} shares {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, {team} shares {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score, way: up }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to {place}{soFar} with {total}."
    when: { of: team, what: score, way: up }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score, way: down }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to {place}{soFar} with {total}."
    when: { of: team, what: score, way: down }
  - text: "{name}: {score} on {apparatus}, {team} {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score }
  - text: "{name}: {score} on {apparatus}, {team} {place}{soFar} with {total}."
    when: { of: team, what: score }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, up from {wasProjected} to {projected} by projection."
    when: { what: score, board: uneven, way: up }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, down from {wasProjected} to {projected} by projection."
    when: { what: score, board: uneven, way: down }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, {projected} by projection."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, {even} {each}."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {total} after {done}."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, up from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, up from {was} to share {place}{soFar} on {total}."
    when: { what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, down from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, down from {was} to share {place}{soFar} on {total}."
    when: { what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, shares {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, shares {place}{soFar} on {total}."
    when: { what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, into {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: new }
  - text: "{name}: {score} on {apparatus}, into {place}{soFar} with {total}."
    when: { what: score, way: new }
  - text: "{name}: {score} on {apparatus}, up from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: up }
  - text: "{name}: {score} on {apparatus}, up from {was} to {place}{soFar} with {total}."
    when: { what: score, way: up }
  - text: "{name}: {score} on {apparatus}, down from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: down }
  - text: "{name}: {score} on {apparatus}, down from {was} to {place}{soFar} with {total}."
    when: { what: score, way: down }
  - text: "{name}: {score} on {apparatus}, still {place}{soFar}, now with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: same }
  - text: "{name}: {score} on {apparatus}, still {place}{soFar}, now with {total}."
    when: { what: score, way: same }
  - text: "{name}: {score} on {apparatus}, {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score }
  - text: "{name}: {score} on {apparatus}, {place}{soFar} with {total}."
    when: { what: score }
  - text: "{name}: {score} on {apparatus}."
    when: { what: score }
  - text: "{name} does not score on {apparatus}."
    when: { what: withdrawn }
  - text: "{name} moves up from {was} to share {place}{soFar} with {levelWith}."
    when: { what: moved, way: up, tied: yes }
  - text: "{name} moves up from {was} to share {place}{soFar}."
    when: { what: moved, way: up, tied: yes }
  - text: "{name} drops from {was} to share {place}{soFar} with {levelWith}."
    when: { what: moved, way: down, tied: yes }
  - text: "{name} drops from {was} to share {place}{soFar}."
    when: { what: moved, way: down, tied: yes }
  - text: "{name} shares {place}{soFar} with {levelWith} on {total}."
    when: { what: moved, way: new, tied: yes }
  - text: "{name} shares {place}{soFar} on {total}."
    when: { what: moved, way: new, tied: yes }
  - text: "{name} moves up from {was} to {place}{soFar}, level with {levelWith}, {side} on {rule}."
    when: { what: moved, way: up }
  - text: "{name} moves up from {was} to {place}{soFar}."
    when: { what: moved, way: up }
  - text: "{name} drops from {was} to {place}{soFar}, level with {levelWith}, {side} on {rule}."
    when: { what: moved, way: down }
  - text: "{name} drops from {was} to {place}{soFar}."
    when: { what: moved, way: down }
  - text: "{name} is {place}{soFar} with {total}."
    when: { what: moved, way: new }

settled:
  - text: "{name} is sure of first place, whatever is still scored."
    when: { target: win, status: secured, by: limit }
  - text: "{name} is sure of first place if every score stays within its range."
    when: { target: win, status: secured, by: ranges }
  - text: "{name} is sure of a medal, whatever is still scored."
    when: { target: medal, status: secured, by: limit }
  - text: "{name} is sure of a medal if every score stays within its range."
    when: { target: medal, status: secured, by: ranges }
  - text: "{name} can no longer win."
    when: { target: win, status: out-of-reach, by: limit }
  - text: "{name} can no longer win if every score stays within its range."
    when: { target: win, status: out-of-reach, by: ranges }
  - text: "{name} can no longer reach a medal."
    when: { target: medal, status: out-of-reach, by: limit }
  - text: "{name} can no longer reach a medal if every score stays within its range."
    when: { target: medal, status: out-of-reach, by: ranges }

standing:
  - text: "{name} is out, with {total} after {done}."
    when: { out: yes }
  - text: "{name} has {total} after {done}, level with {levelWith}: {projected} by projection."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {projected} by projection."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {even} {each}."
    when: { board: uneven }
  - text: "{name} has {total} after {done}."
    when: { board: uneven }
  - text: "{name} wins with {total}, level with {levelWith}, {side} on {rule}."
    when: { place: first, tied: no, over: yes }
  - text: "{name} wins with {total}, {lead} ahead."
    when: { place: first, tied: no, over: yes }
  - text: "{name} shares {place} with {levelWith} on {total}."
    when: { tied: yes, over: yes }
  - text: "{name} shares {place} on {total}."
    when: { tied: yes, over: yes }
  - text: "{name} is {place} with {total}, level with {levelWith}, {side} on {rule}."
    when: { over: yes }
  - text: "{name} is {place} with {total}, {behind} behind."
    when: { over: yes }
  - text: "{name} is {place} with {total}."
    when: { over: yes }
  - text: "{name} shares {place}{soFar} with {levelWith} on {total} after {done}."
    when: { tied: yes }
  - text: "{name} shares {place}{soFar} on {total} after {done}."
    when: { tied: yes }
  - text: "{name} leads{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}."
    when: { place: first }
  - text: "{name} leads{soFar} with {total} after {done}, {lead} ahead."
    when: { place: first }
  - text: "{name} is {place}{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}."
  - text: "{name} is {place}{soFar} with {total} after {done}, {behind} behind."
  - text: "{name} is {place}{soFar} with {total} after {done}."

need:
  - text: "Any score of {name} on {apparatus} puts {team} in the lead{soFar}{unequal}."
    when: { of: team, target: lead, status: secured }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}; {tie}."
    when: { of: team, target: lead, status: needs }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}."
    when: { of: team, target: lead, status: needs }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best; {tie}."
    when: { of: team, target: lead, status: beyond }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best."
    when: { of: team, target: lead, status: beyond }
  - text: "{team} can share the lead{soFar} with {level} from {name} on {apparatus}, no more{unequal}."
    when: { of: team, target: lead, status: level-only, tie: shared }
  - text: "At best {team} ties for the lead{soFar} with {level} from {name} on {apparatus}{unequal}; the tie is open."
    when: { of: team, target: lead, status: level-only }
  - text: "{team} cannot take the lead with {name} on {apparatus}."
    when: { of: team, target: lead, status: impossible }
  - text: "If all others score as likely, {team} wins with any score of {name} on {apparatus}."
    when: { of: team, target: win, status: secured }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} to win; {tie}."
    when: { of: team, target: win, status: needs }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} to win."
    when: { of: team, target: win, status: needs }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} to win, above {her} realistic best; {tie}."
    when: { of: team, target: win, status: beyond }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} to win, above {her} realistic best."
    when: { of: team, target: win, status: beyond }
  - text: "If all others score as likely, {team} has a medal with any score of {name} on {apparatus}."
    when: { of: team, target: medal, status: secured }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} for a medal; {tie}."
    when: { of: team, target: medal, status: needs }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} for a medal."
    when: { of: team, target: medal, status: needs }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} for a medal, above {her} realistic best; {tie}."
    when: { of: team, target: medal, status: beyond }
  - text: "If all others score as likely, {team} needs {score} from {name} on {apparatus} for a medal, above {her} realistic best."
    when: { of: team, target: medal, status: beyond }
  - text: "Any score on {apparatus} puts {name} in the lead{soFar}{unequal}."
    when: { target: lead, status: secured }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}; {tie}."
    when: { target: lead, status: needs }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}."
    when: { target: lead, status: needs }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best; {tie}."
    when: { target: lead, status: beyond }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best."
    when: { target: lead, status: beyond }
  - text: "{name} can share the lead{soFar} with {level} on {apparatus}, no more{unequal}."
    when: { target: lead, status: level-only, tie: shared }
  - text: "At best {name} ties for the lead{soFar} with {level} on {apparatus}{unequal}; the tie is open."
    when: { target: lead, status: level-only }
  - text: "{name} cannot take the lead on {apparatus}."
    when: { target: lead, status: impossible }
  - text: "If all others score as likely, {name} wins with any score on {apparatus}."
    when: { target: win, status: secured }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} to win; {tie}."
    when: { target: win, status: needs }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} to win."
    when: { target: win, status: needs }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} to win, above {her} realistic best; {tie}."
    when: { target: win, status: beyond }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} to win, above {her} realistic best."
    when: { target: win, status: beyond }
  - text: "If all others score as likely, {name} has a medal with any score on {apparatus}."
    when: { target: medal, status: secured }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} for a medal; {tie}."
    when: { target: medal, status: needs }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} for a medal."
    when: { target: medal, status: needs }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} for a medal, above {her} realistic best; {tie}."
    when: { target: medal, status: beyond }
  - text: "If all others score as likely, {name} needs {score} on {apparatus} for a medal, above {her} realistic best."
    when: { target: medal, status: beyond }

outcome:
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}, level with {levelWith}, decided on {rule}{unequal}. Chance {chance}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}, level with {levelWith}, decided on {rule}{unequal}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}{unequal}. Chance {chance}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}{unequal}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar} with {levelWith}{unequal}. Chance {chance}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar} with {levelWith}{unequal}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar}{unequal}. Chance {chance}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar}{unequal}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}, level with {levelWith}, decided on {rule}{unequal}. Chance {chance}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}, level with {levelWith}, decided on {rule}{unequal}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}{unequal}. Chance {chance}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}{unequal}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar} with {levelWith}{unequal}. Chance {chance}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar} with {levelWith}{unequal}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar}{unequal}. Chance {chance}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar}{unequal}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: level with {levelWith}, {place} to {worst}{soFar}, decided on {rule}{unequal}. Chance {chance}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level with {levelWith}, {place} to {worst}{soFar}, decided on {rule}{unequal}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level, {place} to {worst}{soFar} by the tie rules{unequal}. Chance {chance}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level, {place} to {worst}{soFar} by the tie rules{unequal}."
    when: { tie: open }

medals:
  - text: "{medals}. Chance {chance}."
`;
