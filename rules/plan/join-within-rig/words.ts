import { listNames, type FindingWords } from '../../../src/lint/rule.js';

export type Facts =
  | {
      readonly form: 'merged';
      /** VLANs of one rig that become one, with their rig. */
      readonly vlans: readonly string[];
      /** VLANs of other rigs that several joins meet in. */
      readonly through: readonly string[];
    }
  | {
      readonly form: 'ties-nothing';
      readonly of: 'vlans' | 'networks';
      /** All the join names, with their rig. */
      readonly names: readonly string[];
    };

export function words(facts: Facts): FindingWords {
  if (facts.form === 'merged') {
    const { vlans, through } = facts;
    const list = listNames(vlans);
    return {
      what: `${vlans.length > 2 ? `${list} become one VLAN` : `two VLANs of one rig become one: ${list}`}${through.length === 0 ? '' : `, for each is joined with ${listNames(through)}`}`,
      onAir:
        'whoever sets up the tie makes one VLAN of what the rig holds apart: pictures flood where sound is, two queriers and two subnets meet, and both legs of a stream may come to hang on one fault',
      fix: 'join each VLAN with one VLAN of each other rig; where two are to be reached from one, leave one out or let a router stand between',
    };
  }
  const { of, names } = facts;
  return {
    what: `a join names ${names.length === 1 ? `${names[0] ?? ''} twice` : `${listNames(names)}, all of one rig`}, and nothing of another rig`,
    onAir: 'what was to be joined is not: nothing of the other rig arrives, and no rule here checks what would meet',
    fix: `name ${of === 'vlans' ? 'the VLAN' : 'the network'} of the other rig, with that rig and a colon before it where both use the name; within a rig, links and \`routing\` say what is joined`,
  };
}
