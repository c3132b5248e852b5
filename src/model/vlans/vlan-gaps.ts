/** VLANs that do not get from where a stream is sent to where it is taken. */
import { kept } from '../../collections/kept.js';
import type { Interface, Leg, Plan, Port, ReceiverLeg, Switch, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from './domains.js';
import { mayCarry, sameMeaning } from './trunks.js';

export interface VlanGap {
  readonly vlan: Vlan;
  readonly parts: readonly [Domain, Domain];
  /** One switch of each part: where its first sender and receiver are, by name. */
  readonly from: Switch;
  readonly to: Switch;
  /** Names of what would have to pass. */
  readonly streams: ReadonlySet<string>;
  readonly hosts: ReadonlySet<Patched>;
}

/** An interface of which the switch port is known. */
export type Patched = Interface & { readonly port: Port };

/** Per VLAN and pair of parts of it, everything that would have to pass. */
export function vlanGaps({ receiverLegs }: Plan, domains: Domains): readonly VlanGap[] {
  const found = new Map<Domain, Map<Domain, Draft>>();
  for (const leg of receiverLegs) {
    const { takes } = leg;
    const vlan = takes?.vlan;
    if (takes === undefined || vlan === undefined || leg.vlan === undefined || !sameMeaning(vlan, leg.vlan)) continue;
    // One VLAN on one switch is one part: most receivers of a large plan.
    if (vlan === leg.vlan && takes.interface?.port?.switch === leg.interface?.port?.switch) continue;
    const parts = [domains.switched(takes), domains.switched(leg)] as const;
    if (parts[0] === parts[1]) continue;
    const here = placed(takes, domains);
    const there = placed(leg, domains);
    if (here === undefined || there === undefined) continue;
    const inOrder = parts[0].title < parts[1].title;
    const [low, high] = inOrder ? parts : [parts[1], parts[0]];
    const [from, to] = inOrder ? [here, there] : [there, here];
    const gap = kept(
      kept(found, low, () => new Map<Domain, Draft>()),
      high,
      () => ({
        vlan,
        parts,
        from: from.port.switch,
        to: to.port.switch,
        streams: new Set<string>(),
        hosts: new Set<Patched>(),
      }),
    );
    gap.streams.add(takes.sender.label);
    gap.hosts.add(here).add(there);
  }
  return [...found.values()].flatMap((byHigh) => [...byHigh.values()]);
}

interface Draft extends VlanGap {
  readonly streams: Set<string>;
  readonly hosts: Set<Patched>;
}

/** A host whose own port does not carry its VLAN is `ports/vlan-differs`. */
function placed(leg: Leg | ReceiverLeg, domains: Domains): Patched | undefined {
  const { vlan, interface: via } = leg;
  if (vlan === undefined || via === undefined || !isPatched(via)) return undefined;
  return domains.placed(leg) && mayCarry(via.port, vlan) ? via : undefined;
}

function isPatched(one: Interface): one is Patched {
  return one.port !== undefined;
}
