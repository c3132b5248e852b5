import {
  byLabel,
  formatAddress,
  legLabel,
  listNames,
  listOr,
  type Interface,
  type FindingWords,
  type Kind,
  type Leg,
  type Network,
  type Vlan,
} from '../../../src/doors/rule.js';
import { promiseWords, withGroup, type ConventionGroups } from '../../../src/doors/groups.js';

/** A leg and a free group for it. */
export interface Moved {
  readonly leg: Leg;
  readonly group: string;
}

/** An interface in the wrong VLAN, and the one that all its groups and its address are of. */
export interface Astray {
  readonly interface: Interface;
  readonly vlan: Vlan;
}

/** A leg that leaves by the wrong interface, and the one it is meant to leave by. */
export interface Resent {
  readonly leg: Leg;
  readonly interface: Interface;
}

/** What a device kind states for all its devices: a group, the VLAN of an interface, or the interface of a leg. */
export type Stated = {
  readonly stream: string;
  /** From 1. */
  readonly leg: number;
  readonly interface: string;
  readonly vlan: string | undefined;
} & (
  | { readonly key: 'group'; readonly group: string; readonly promises: readonly ConventionGroups[] }
  | { readonly key: 'vlan'; readonly homes: readonly Network[] }
  /** `meant`: the kind's interface on the network the group belongs to. */
  | { readonly key: 'interface'; readonly meant: string | undefined }
  /** `meant`: the kind of stream whose ranges hold the groups. */
  | {
      readonly key: 'format';
      readonly essence: Leg['sender']['essence'];
      readonly meant: string | undefined;
      readonly format: string | undefined;
    }
);

interface VlanFacts {
  readonly form: 'vlan';
  readonly vlan: Vlan;
  /** The network the plan puts it in. */
  readonly network: Network;
  readonly legs: readonly Leg[];
  readonly promises: readonly ConventionGroups[];
  /** Networks whose ranges hold all the groups. */
  readonly homes: readonly Network[];
}

interface KindFacts {
  readonly form: 'kind';
  readonly kind: Kind;
  readonly stated: readonly Stated[];
  readonly legs: readonly Leg[];
  readonly devices: readonly string[];
  readonly promises: readonly ConventionGroups[];
  /** Where nothing is promised for where they leave: networks whose ranges hold all the groups. */
  readonly homes: readonly Network[] | undefined;
}

interface StreamFacts {
  readonly form: 'stream';
  readonly legs: readonly {
    readonly leg: Leg;
    readonly group: string;
    readonly promises: readonly ConventionGroups[];
  }[];
  /** A free group for each leg, or none. */
  readonly moves: readonly Moved[];
  /** Where the VLAN of the interface is the slip. */
  readonly astray: Astray | undefined;
  /** All the legs, where the interfaces they leave by are the slip. */
  readonly resent: readonly Resent[] | undefined;
  /** Where nothing is promised for where they leave: networks whose ranges hold all the groups. */
  readonly homes: readonly Network[] | undefined;
}

export type Facts = VlanFacts | KindFacts | StreamFacts;

/** The group of a leg, the network of a VLAN, the interface a leg leaves by, or what a kind states. */
export type Note = string | { readonly network: string } | { readonly via: string } | { readonly says: Stated };

export function words(facts: Facts): FindingWords<Note> {
  switch (facts.form) {
    case 'vlan':
      return { ...vlanWords(facts), label };
    case 'kind':
      return { ...kindWords(facts), label };
    case 'stream':
      return { ...streamWords(facts), label };
  }
}

function label(name: string, note: Note): string {
  if (typeof note === 'string') return withGroup(name, note);
  if ('via' in note) return `${name}: from interface ${note.via}`;
  return 'network' in note ? `${name}: network ${note.network}` : `${name}: ${statedWords(note.says)}`;
}

const ON_AIR = "whatever is set up by the ranges (routing, filters, a second rig's plan) misses";
const OTHER_STREAM =
  'boxes set up from the plan send another kind of stream than their receivers wait for, through ports made for another; until the format is settled, their rates count for nothing here';
const PASSES = "may not pass a router, or run into somebody else's";

function vlanWords({ vlan, network, legs, promises, homes }: VlanFacts): FindingWords {
  return {
    what: `all ${legs.length} streams of VLAN ${vlan.name}, which the plan puts in network ${network.name}, use groups outside ${listNames(promises.map(promiseWords), 3)}: ${listNames(legs.map(sendsTo), 3)}`,
    onAir: `${ON_AIR} these streams: they ${PASSES}; and their path is taken for one of network ${network.name}`,
    fix:
      homes.length === 0
        ? `put VLAN ${vlan.name} in the network it belongs to, or give network ${network.name} ranges for its streams under \`conventions: {groups: …}\``
        : `put VLAN ${vlan.name} in network ${listOr(homes.map(({ name }) => name))}, whose ranges hold all these groups; if ${network.name} is right, move the streams into its ranges`,
  };
}

function kindWords({ kind, stated, legs, devices, promises, homes }: KindFacts): FindingWords {
  const mends = byLabel(stated.map(mendWords), (one) => one);
  return {
    what: `kind ${kind.name} has ${listNames(stated.map(statedWords), 3)}, and there ${legs.length} streams of ${listNames(devices, 4)} use groups ${homes !== undefined ? ofHomes(homes) : `outside ${listNames(promises.map(promiseWords), 3)}`}: ${listNames(legs.map(sendsTo), 3)}`,
    onAir: stated.every(({ key }) => key === 'format')
      ? OTHER_STREAM
      : `${ON_AIR} these streams: they ${PASSES}${legs.some(({ sender }) => sender.legs.length > 1) ? ', and where both legs leave on one network, one fault takes both' : ''}`,
    fix: `${listNames(mends, 4)}, once in the kind; if the kind is right, move the groups into the ranges`,
  };
}

/** `mics leg 2 on interface red (VLAN red-audio)`. */
export function statedWords(stated: Stated): string {
  const which = `${stated.stream} leg ${stated.leg}`;
  switch (stated.key) {
    case 'group':
      return `${which} sending to ${stated.group}`;
    case 'vlan':
      return `interface ${stated.interface}${stated.vlan === undefined ? '' : ` in VLAN ${stated.vlan}`}`;
    case 'format':
      return `${stated.stream} as ${stated.essence ?? 'another stream'}`;
    case 'interface':
      return `${which} on interface ${stated.interface}${stated.vlan === undefined ? '' : ` (VLAN ${stated.vlan})`}`;
  }
}

function mendWords(stated: Stated): string {
  const which = `${stated.stream} leg ${stated.leg}`;
  switch (stated.key) {
    case 'group':
      return `give ${which} a group of ${listNames(
        byLabel(stated.promises.map(promiseWords), (one) => one),
        2,
      )}`;
    case 'vlan':
      return `put interface ${stated.interface} in ${
        stated.homes.length === 0
          ? 'the VLAN it belongs to'
          : `a VLAN of network ${listOr(stated.homes.map(({ name }) => name))}`
      }`;
    case 'format':
      return stated.format === undefined
        ? `give ${stated.stream} a format of ${stated.meant ?? 'its own kind'}, whose ranges hold its groups`
        : `give ${stated.stream} the format ${stated.format}, which nothing else has and whose ranges hold its groups`;
    case 'interface':
      return `send ${which} from ${stated.meant === undefined ? 'an interface on the network its group belongs to' : `interface ${stated.meant}`}`;
  }
}

/** `that the conventions keep for network red`. */
function ofHomes(homes: readonly Network[]): string {
  return `that the conventions keep for network ${listOr(homes.map(({ name }) => name))}`;
}

function streamWords({ legs, moves, astray, resent, homes }: StreamFacts): FindingWords {
  return {
    what: legs
      .map(
        ({ leg, group, promises }) =>
          `${legLabel(leg)} sends to ${group}, ${homes !== undefined ? `a group ${ofHomes(homes)}, from interface ${leg.interface?.name ?? ''}` : `outside ${promises.map(promiseWords).join(' and outside ')}`}`,
      )
      .join('; '),
    onAir: `${ON_AIR} this stream: it ${PASSES}`,
    fix:
      resent !== undefined
        ? `send ${listNames(resent.map(({ leg, interface: via }) => `${legLabel(leg)} from interface ${via.name}`))}, which is on the network its group belongs to; if the interface is right, move the group`
        : astray !== undefined
          ? `put interface ${astray.interface.name} of ${astray.interface.device.name} in VLAN ${astray.vlan.name}: its address and all its groups are of that network`
          : moves.length === 0
            ? "move it into the conventions' range; where the ranges contradict each other or are full, change them under `conventions: {groups: …}`"
            : `move ${listNames(moves.map(({ leg, group }) => `${legLabel(leg)} to ${group}`))}, free in this plan`,
  };
}

function sendsTo(leg: Leg): string {
  return `${legLabel(leg)} to ${formatAddress(leg.group ?? 0)}`;
}
