/**
 * Interfaces that something is unusual about, as `streams/unusual-legs.ts` has legs: a large plan has a hundred thousand
 * interfaces and nearly all are plain. One pass picks those that may concern a question at all.
 */
import type { Interface, Plan } from '../../plan/types.js';
import { unusableMac } from './mac-kinds.js';

/** Each list in plan order. */
export interface UnusualInterfaces {
  /** Without an address, and not given one by DHCP. */
  readonly addressless: readonly Interface[];
  /** With a MAC that only a router can have, or nobody. */
  readonly oddMac: readonly Interface[];
  /** At a port of another rate, where both are stated. */
  readonly unlikeRate: readonly Interface[];
  /** At a port that states no rate. */
  readonly ratelessPort: readonly Interface[];
  /** That state an IGMP or MLD version of their own. */
  readonly ownVersion: readonly Interface[];
  /** Members of bonds. */
  readonly bonded: readonly Interface[];
  /** That never send. */
  readonly silent: readonly Interface[];
}

const KNOWN = new WeakMap<Plan, UnusualInterfaces>();

/** Found once a plan. */
export function unusualInterfaces(plan: Plan): UnusualInterfaces {
  let known = KNOWN.get(plan);
  if (known === undefined) KNOWN.set(plan, (known = findUnusual(plan)));
  return known;
}

function findUnusual(plan: Plan): UnusualInterfaces {
  const addressless: Interface[] = [];
  const oddMac: Interface[] = [];
  const unlikeRate: Interface[] = [];
  const ratelessPort: Interface[] = [];
  const ownVersion: Interface[] = [];
  const bonded: Interface[] = [];
  const silent: Interface[] = [];
  for (const one of plan.interfaces) {
    const { port, mac, rateBps } = one;
    if (lacksAddress(one)) addressless.push(one);
    if (mac !== undefined && unusableMac(mac) !== undefined) oddMac.push(one);
    if (port !== undefined) {
      if (port.rateBps === undefined) ratelessPort.push(one);
      else if (rateBps !== undefined && rateBps !== port.rateBps) unlikeRate.push(one);
    }
    if (one.igmpVersion !== undefined || one.mldVersion !== undefined) ownVersion.push(one);
    if (one.bond !== undefined) bonded.push(one);
    if (one.silent) silent.push(one);
  }
  return { addressless, oddMac, unlikeRate, ratelessPort, ownVersion, bonded, silent };
}

/** Neither an address nor DHCP to give one. */
export function lacksAddress({ address, address6, dhcp }: Interface): boolean {
  return address === undefined && address6 === undefined && !dhcp;
}
