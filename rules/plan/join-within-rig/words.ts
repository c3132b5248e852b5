import { listNames, withRig, type FindingWords, type Network, type Vlan } from '../../../src/doors/rule.js';

interface Merged {
  readonly form: 'merged';
  /** VLANs of one rig that become one. */
  readonly vlans: readonly Vlan[];
  /** What they are joined with. */
  readonly through: readonly Vlan[];
  /** How many joins do it. */
  readonly joins: number;
}

interface Idle {
  readonly form: 'idle';
  readonly key: 'vlans' | 'networks';
  /** All that the join names, each once: of one rig. */
  readonly named: readonly (Vlan | Network)[];
}

export type Facts = Merged | Idle;

export function words(facts: Facts): FindingWords<never> {
  return facts.form === 'merged' ? mergedWords(facts) : idleWords(facts);
}

function mergedWords({ vlans, through, joins }: Merged): FindingWords<never> {
  const names = listNames(vlans.map(withRig));
  const one = vlans.length > 2 ? `${names} become one VLAN` : `two VLANs of one rig become one: ${names}`;
  return {
    what: `${one}${joins > 1 ? `, for each is joined with ${listNames(through.map(withRig))}` : ''}`,
    onAir:
      'whoever sets up the tie makes one VLAN of what the rig holds apart: pictures flood where sound is, two queriers and two subnets meet, and both legs of a stream may come to depend on one fault',
    fix: 'join each VLAN with one VLAN of each other rig; where two are to be reached from one, leave one out or let a router stand between',
  };
}

function idleWords({ key, named }: Idle): FindingWords<never> {
  const names = listNames(named.map(withRig));
  return {
    what: `a join names ${named.length === 1 ? `${names} twice` : `${names}, all of one rig`}, and nothing of another rig`,
    onAir: 'what was to be joined is not: nothing of the other rig arrives, and no rule here checks what would meet',
    fix: `name ${key === 'vlans' ? 'the VLAN' : 'the network'} of the other rig, with that rig and a colon before it where both use the name; within a rig, links and \`routing\` say what is joined`,
  };
}
