import {
  agree,
  legLabel,
  listNames,
  ownerLabel,
  receiverLegLabel,
  type FindingWords,
  type Interface,
  type Leg,
  type NonEmpty,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';
import { FILTERING_VERSION, protocolName, verbOf, type Protocol } from '../../../src/doors/igmp.js';

export type Facts = VlanFacts | HostFacts;

/** One host alone is of the old version. */
interface HostFacts {
  readonly form: 'host';
  readonly protocol: Protocol;
  readonly host: Interface;
  readonly version: number;
  readonly receivers: readonly ReceiverLeg[];
  /** As below. */
  readonly refused: boolean;
}

interface VlanFacts {
  readonly form: 'vlan';
  readonly protocol: Protocol;
  /** Where the version runs: `VLAN red-video`. */
  readonly where: string;
  readonly vlans: readonly Vlan[];
  /** VLANs that state a version without sources. */
  readonly old: NonEmpty<{ readonly vlan: Vlan; readonly version: number }>;
  /** Sent to source-specific groups. */
  readonly legs: readonly Leg[];
  /** Those groups, in address order. */
  readonly groups: readonly string[];
  /** Those that join by source. */
  readonly receivers: readonly ReceiverLeg[];
  /** Whether a group is source-specific, so that a join without a source is refused; else the source is merely lost. */
  readonly refused: boolean;
}

/** The version a VLAN states; a sender or receiver that relies on sources. */
export type Note = { readonly version: number } | 'sends' | 'joins';

export function words(facts: Facts): FindingWords<Note> {
  return facts.form === 'host' ? hostWords(facts) : vlanWords(facts);
}

function hostWords({ protocol, host, version, receivers, refused }: HostFacts): FindingWords<Note> {
  const name = protocolName(protocol);
  return {
    what: `${ownerLabel(host)} speaks ${name} ${version}, which cannot ask for a source, but ${listNames(receivers.map(receiverLegLabel), 3)} ${agree(receivers.length, 'needs', 'need')} one`,
    onAir: refused
      ? 'the host asks for the bare group; routers and switches that keep to source-specific rules ignore that, so there is no picture or sound at this host, and all is well at the others'
      : 'the source is dropped from its joins: anything else sent to the group arrives at this host too',
    fix: `let ${ownerLabel(host)} speak ${name} ${FILTERING_VERSION[protocol]}, or send it any-source groups`,
    label: (place, note) => noteWords(place, note, name),
  };
}

function noteWords(place: string, note: Note, name: string): string {
  return `${place}: ${note === 'sends' ? 'source-specific' : note === 'joins' ? 'joins by source' : `${name} ${note.version}`}`;
}

function vlanWords(facts: VlanFacts): FindingWords<Note> {
  const { protocol, where, old, refused } = facts;
  const name = protocolName(protocol);
  const vlans = listNames(old.map(({ vlan }) => `VLAN ${vlan.name}`));
  return {
    what: `${where} ${verbOf(facts, 'runs', 'run')} ${name} ${old[0].version}, which cannot ask for a source, but ${uses(facts)}`,
    onAir: refused
      ? 'hosts hear the old queries and ask for the bare group; routers and switches that keep to source-specific rules ignore that, so there is no picture or sound'
      : 'the source is dropped from the joins: anything else sent to the group arrives too, and a second sender breaks the picture up',
    fix: againstPractice(facts)
      ? `use any-source groups in ${vlans}; or run ${name} ${FILTERING_VERSION[protocol]} there, on every querier and switch, and change \`practice: {igmpVersion: …}\``
      : `run ${name} ${FILTERING_VERSION[protocol]} in ${vlans}, on every querier and switch, or use any-source groups there`,
    label: (place, note) => noteWords(place, note, name),
  };
}

function uses({ legs, groups, receivers }: VlanFacts): string {
  const sends = `${listNames(legs.map(legLabel), 3)} ${agree(legs.length, 'sends', 'send')} to source-specific ${agree(groups.length, 'group')} ${listNames(groups, 3)}`;
  const joins = `${listNames(receivers.map(receiverLegLabel), 3)} ${agree(receivers.length, 'joins', 'join')} by source`;
  return [...(legs.length === 0 ? [] : [sends]), ...(receivers.length === 0 ? [] : [joins])].join(' and ');
}

/** The rig has stated that it speaks another version. */
function againstPractice({ protocol, old }: VlanFacts): boolean {
  const version = FILTERING_VERSION[protocol];
  return protocol === 'igmp' && old.some(({ vlan }) => (vlan.rig.practice.igmpVersion ?? version) !== version);
}
