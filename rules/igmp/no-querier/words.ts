import {
  agree,
  listNames,
  QUERIER_WANTED,
  type FindingWords,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';
import {
  forgettingWords,
  formatSeconds,
  protocolName,
  slowestWords,
  verbOf,
  type FloodedHost,
  type Protocol,
} from '../../../src/doors/igmp.js';

interface Place {
  readonly on: Switch;
  /** An address it holds there. */
  readonly from: string | undefined;
}

interface Common {
  readonly protocol: Protocol;
  /** Where nobody queries: `VLAN red-video`. */
  readonly where: string;
  readonly vlans: readonly Vlan[];
  /** The VLAN that turns snooping on. */
  readonly vlan: Vlan;
  /** Where to put a querier and a backup: as many as there are switches for them. */
  readonly places: readonly Place[];
}

export interface Flooded extends Common {
  readonly form: 'flood';
  /** What a flood does to the slowest port. */
  readonly slowest: FloodedHost | undefined;
  /** Streams of unknown rate, which are not in it. */
  readonly unrated: number;
}

export interface Pruned extends Common {
  readonly form: 'prune';
  /** Receivers on other switches than their sender. */
  readonly far: readonly string[];
  /** Whether any is on the sender's own. */
  readonly near: boolean;
  /** Until a membership is forgotten. */
  readonly membershipS: number;
  /** Switches that do not say that they prune. */
  readonly assumed: readonly Switch[];
}

export type Facts = Flooded | Pruned;

export function words(facts: Facts): FindingWords<'snoops'> {
  const { protocol, where } = facts;
  return {
    what: `${where} ${verbOf(facts, 'carries', 'carry')} groups and ${verbOf(facts, 'its', 'their')} switches snoop, but no querier and no multicast router is planned there`,
    onAir: facts.form === 'flood' ? flooded(facts) : pruned(facts),
    fix: fixWords(facts),
    label: (name) => `${name}: snoops ${protocolName(protocol)} without a querier`,
  };
}

function pruned({ far, near, membershipS, assumed }: Pruned): string {
  const none = far.length === 0;
  const cross = `joins do not cross to another switch, so ${listNames(far, 4)} ${agree(far.length, 'gets', 'get')} nothing from the start`;
  const die = `${none ? 'every stream plays' : "receivers on the sender's own switch play"} at first and ${none ? 'stops' : 'stop'} ${formatSeconds(membershipS)} after the join; joining again helps for as long`;
  return `${[...(none ? [] : [cross]), ...(none || near ? [die] : [])].join('; ')}${forgettingWords(assumed)}`;
}

function flooded(facts: Flooded): string {
  const slowest = slowestWords(facts);
  return `nothing stops, for its switches flood while nobody queries: every stream goes to every port${slowest === undefined ? '' : `; ${slowest}`}`;
}

/** One querier and, where there is a second switch, a backup. */
function fixWords({ protocol, vlan, places }: Facts): string {
  const [querier, backup] = places;
  if (querier === undefined)
    return `${QUERIER_WANTED}, and write both under \`${protocol}: {querier: …}\` of VLAN ${vlan.name}`;
  const entries = places.map(({ on, from }) => `{on: ${on.name}${from === undefined ? '' : `, address: ${from}`}}`);
  const roles = `let ${querier.on.name} query${backup === undefined ? '' : ` and ${backup.on.name} stand by`}`;
  return `${roles}: write \`${protocol}: {querier: [${entries.join(', ')}]}\` in VLAN ${vlan.name}${addressWords(querier, backup)}`;
}

/** What is left to decide where the plan gives a switch no address in the VLAN. */
function addressWords(querier: Place, backup: Place | undefined): string {
  if (backup === undefined) return querier.from === undefined ? ', from an address of its own there' : '';
  if (backup.from !== undefined) return '';
  return querier.from === undefined
    ? `, each from an address of its own there, ${querier.on.name} from the lower one`
    : `, ${backup.on.name} from a higher address`;
}
