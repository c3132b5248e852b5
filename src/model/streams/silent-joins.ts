/** Joins that nobody answers. */
import type { Conventions, ReceiverLeg, Sender } from '../../plan/types.js';
import { inRange, type Address } from '../../values/address.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { Reception } from './reception.js';

/** Nobody sends the group, in a domain where the plan has senders of groups; or nobody sends it from the stated source. */
export function isSilent(leg: ReceiverLeg, reception: Reception, domains: Domains): boolean {
  const use = reception.useOf(leg);
  if (use === undefined) return reception.anySentIn(domains.reach(leg));
  if (leg.source === undefined) return false;
  const sources = reception.legsBySource(use);
  return !sources.has(leg.source) && !sources.has(undefined);
}

/** The other leg of a receiver tells which stream is meant: the one it hears, with the group that stream has here. */
export function siblingStream(
  leg: ReceiverLeg,
  domain: Domain,
  reception: Reception,
  domains: Domains,
): { readonly sender: Sender; readonly group: Address } | undefined {
  for (const sibling of leg.receiver.legs) {
    const senders = sibling === leg ? [] : [...new Set(reception.heard(sibling).map(({ sender }) => sender))];
    const [sender] = senders;
    if (sender === undefined || senders.length > 1) continue;
    const group = sender.legs.find((one) => one.group !== undefined && domains.reach(one) === domain)?.group;
    if (group !== undefined) return { sender, group };
  }
  return undefined;
}

/** A group the conventions promise to give out. */
export function standsInConventions(group: Address, { groups }: Conventions): boolean {
  return groups.some(({ ranges }) => ranges.some((range) => inRange(group, range)));
}
