/** Sets for rules that find one fault in several addresses at once. */
import { byLabel } from '../collections/order.js';
import { groupBy } from '../collections/group-by.js';
import type { NonEmpty } from '../collections/non-empty.js';
import type { Vlan } from '../plan/types.js';
import { type Held, heldLabel, subnetKey } from '../model/hosts/index.js';
import { formatPrefix, type Prefix } from '../values/address.js';
import type { FindingDraft } from './finding.js';
import { heldMark, heldSubject, touchOfOwner, vlanSubject } from './held-marks.js';
import { mark } from './marks.js';

/** A VLAN whose whole subnet has the fault; `block` is what the subject names. */
export interface WholeSubnet {
  readonly vlan: Vlan;
  readonly subnet: Prefix;
  readonly block: Prefix;
}

/** Addresses of one cause: all of a VLAN whose whole subnet has the fault, or one. */
export interface HeldSet {
  readonly subject: string;
  readonly whole: WholeSubnet | undefined;
  /** Sorted by holder. */
  readonly held: NonEmpty<Held>;
}

/** Addresses with a fault in sets of one cause each, in order of first appearance. */
export function heldSets(
  faulty: readonly Held[],
  wholeOf: (held: Held) => WholeSubnet | undefined,
): readonly HeldSet[] {
  const placed = faulty.map((held) => {
    const whole = wholeOf(held);
    const subject =
      whole === undefined ? heldSubject(held) : `${formatPrefix(whole.block)} in ${vlanSubject(whole.vlan)}`;
    return { held, whole, subject };
  });
  return [...groupBy(placed, ({ subject }) => subject).values()].map((set) => {
    const [{ subject, whole }] = set;
    const sorted = byLabel(set, ({ held }) => heldLabel(held));
    const [first, ...rest] = sorted;
    return { subject, whole, held: [first.held, ...rest.map(({ held }) => held)] };
  });
}

/** What every finding on a set has: a VLAN is marked where its subnet is the cause, else the first of the owners. */
export function heldSetDraft<const Note>(
  { subject, whole, held }: HeldSet,
  note: Note,
): Pick<FindingDraft<object, Note>, 'subject' | 'parties' | 'at' | 'others' | 'touch'> {
  const [first, ...rest] = held;
  const parties = held.map(heldLabel);
  if (whole === undefined)
    return {
      subject,
      parties,
      at: heldMark(first, note),
      others: rest.map((one) => heldMark(one)),
      touch: touchOfOwner(first.owner),
    };
  const { vlan, subnet } = whole;
  return {
    subject,
    parties: [...parties, vlan.name],
    at: { ...mark(vlan, `VLAN ${vlan.name}`, subnetKey(vlan, subnet)), note },
    others: held.map((one) => heldMark(one)),
    touch: { kind: 'vlan', name: vlan.name },
  };
}
