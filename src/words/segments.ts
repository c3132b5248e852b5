/** IGMP and MLD in words, the same in all rules. */
import { agree, counted } from './counts.js';
import { listNames } from './lists.js';
import { byLabel } from '../collections/order.js';
import type { Candidate, Flood, Protocol } from '../model/network/index.js';
import { portLabel } from '../model/vlans/index.js';
import type { Device, Interface, Switch, Vlan } from '../plan/types.js';
import { formatAddress } from '../values/address.js';
import { formatRate } from '../values/quantity.js';

/** `IGMP` or `MLD`. */
export function protocolName(protocol: Protocol): string {
  return protocol === 'igmp' ? 'IGMP' : 'MLD';
}

/** `carries` of one VLAN, `carry` of several that are joined. */
export function verbOf({ vlans }: { readonly vlans: readonly Vlan[] }, one: string, several: string): string {
  return vlans.length > 1 ? several : one;
}

/** `VLAN red-video`, `VLANs red-audio and red-video`, in the order given. */
export function vlansWords(vlans: readonly string[]): string {
  return `${agree(vlans.length, 'VLAN')} ${listNames(vlans)}`;
}

/** `turn snooping on in VLAN red-video, where red-core is planned to query`. */
export function snoopingWords(vlans: readonly string[], queriers: readonly string[], routed: boolean): string {
  const where = `turn snooping on in ${vlansWords(vlans)}`;
  const names = byLabel([...new Set(queriers)], (name) => name);
  if (names.length > 0)
    return `${where}, where ${listNames(names, 3)} ${agree(names.length, 'is', 'are')} planned to query`;
  return routed ? `${where}, where a multicast router queries` : `${where}, and ${QUERIER_WANTED}`;
}

/** What a VLAN without queriers needs, said alike by every rule. */
export const QUERIER_WANTED = 'let one switch query and another stand by';

/** ` (leaf-a is taken to forget groups then; …)`, or nothing where every switch says what it does while nobody queries. */
export function forgettingWords(assumed: readonly Switch[]): string {
  if (assumed.length === 0) return '';
  const names = assumed.map(({ name }) => name);
  return ` (${listNames(names, 3)} ${agree(names.length, 'is', 'are')} taken to forget groups then; \`noQuerier\` is not stated)`;
}

/** Somebody who queries, as facts of findings have it. */
export interface QuerierFact {
  readonly on: Switch | Device | undefined;
  readonly vlan: Vlan;
  readonly address: string | undefined;
}

export function querierFact({ on, vlan, address }: Candidate): QuerierFact {
  return { on, vlan, address: address === undefined ? undefined : formatAddress(address) };
}

/** `red-core (10.20.10.1)`. */
export function querierLabel({ on, vlan, address }: QuerierFact): string {
  const name = on?.name ?? `a querier of ${vlan.name}`;
  return address === undefined ? name : `${name} (${address})`;
}

/** `mon-1 red`. */
export function hostLabel({ device, name }: Interface): string {
  return `${device.name} ${name}`;
}

/** `mon-1 red at red-start/12 (1 Gbit/s)`. */
export function hostPortWords(host: Interface, rateBps: number | undefined): string {
  const at = host.port === undefined ? '' : ` at ${portLabel(host.port)}`;
  return `${hostLabel(host)}${at}${rateBps === undefined ? '' : ` (${formatRate(rateBps)})`}`;
}

/** What the hosts get without asking, at the one it hits hardest: `the slowest port, mon-1 red at red-start/12 (1 Gbit/s), gets 2.3 Gbit/s`. */
export function slowestWords({ slowest, unrated }: Pick<Flood, 'slowest' | 'unrated'>): string | undefined {
  if (slowest === undefined || slowest.floodBps <= 0) return undefined;
  const more = unrated === 0 ? '' : ` and ${counted(unrated, 'stream')} of unknown rate`;
  return `the slowest port, ${hostPortWords(slowest.host, slowest.rateBps)}, gets ${formatRate(slowest.floodBps)} nobody there asked for${more}`;
}
