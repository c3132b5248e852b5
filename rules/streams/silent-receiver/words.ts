import {
  agree,
  counted,
  formatRate,
  legLabel,
  listNames,
  ownerLabel,
  type FindingWords,
  type Interface,
  type Leg,
  type NonEmpty,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly host: Interface;
  readonly vlans: readonly Vlan[];
  readonly legs: NonEmpty<Leg>;
  /** All of them together, as far as their rates are known. */
  readonly rateBps: number;
  readonly unrated: number;
  /** Other hosts that get them. */
  readonly bystanders: NonEmpty<Interface>;
  readonly slowest: { readonly name: string; readonly rateBps: number } | undefined;
}

export type Note = 'silent' | 'sent here';

const MOST_PORTS = 4;

export function words({ host, vlans, legs, rateBps, unrated, bystanders, slowest }: Facts): FindingWords<Note> {
  const load = unrated === 0 ? formatRate(rateBps) : rateBps > 0 ? `at least ${formatRate(rateBps)}` : 'load not known';
  const room =
    slowest === undefined
      ? 'the rates of their ports are not known'
      : `the slowest, ${slowest.name}, has ${formatRate(slowest.rateBps)} and is not filled by it`;
  return {
    what:
      `${listNames(legs.map(legLabel))} (${load}) ${agree(legs.length, 'goes', 'go')} to every port of VLAN ${listNames(vlans.map(({ name }) => name))}: ${ownerLabel(host)}, where ${agree(legs.length, 'it is', 'they are')} sent, never speaks; ` +
      `${counted(bystanders.length, 'other host')} ${agree(bystanders.length, 'gets', 'get')} it (${listNames(bystanders.map(ownerLabel), MOST_PORTS)}), ${room}`,
    onAir:
      'all is well after patching; five minutes after its last frame the switches have forgotten the receiver and send the stream out of every port of the VLAN, small hosts and links with it',
    fix: 'let the receiver speak more often than switches forget: control, or a ping every minute; or bind its MAC address to its port in the switches; then take `silent` out',
    label: (name, note) => (note === 'silent' ? `${name}: never speaks` : `${name}: sent there`),
  };
}
