/** Numbers of the gateway, the switches and the queriers in each VLAN, below the first unit and alike on both legs. */
import type { Clear } from './clear.js';
import { growthOf, type Demand, type SwitchDemand, type VlanDemand } from './demand.js';
import type { Kept } from './kept.js';
import { refused, type Refused } from './refusal.js';
import { lessClear } from './short-addresses.js';
import type { Subnets } from './subnets.js';
import { agree } from '../words/counts.js';
import { cidr } from './wider.js';

export interface Reserved {
  /** Counted from the first address of the subnet, as all of these. */
  readonly gateway: number;
  readonly switches: ReadonlyMap<SwitchDemand, number>;
  /** Where no switch is known, two numbers for those that will query; the lower wins (RFC 3376 §6.6.2). */
  readonly queriers: readonly number[];
}

/** The first number for units: a ten that leaves the gateway, the switches and their growth before it. */
export function firstUnitFor({ networks, request }: Demand): number {
  const most = Math.max(2, ...networks.map(({ switches }) => switches.length));
  return Math.ceil((most + growthOf(most, request) + 1) / 10) * 10 + 1;
}

/** Reserved numbers of every VLAN, or where there are too few. The core has the lowest, so that it wins the election. */
export function reserve(
  demand: Demand,
  { subnets }: Subnets,
  clear: Clear,
  kept: Kept | undefined,
  firstUnit: number,
): ReadonlyMap<VlanDemand, Reserved> | Refused {
  const found = new Map<VlanDemand, Reserved>();
  const moves = new Set(demand.request.moves ?? []);
  for (const { vlans } of demand.pairs) {
    const bases = vlans.map((vlan) => subnets.get(vlan)?.first ?? 0);
    const known = vlans.map((vlan, side) =>
      vlan.network.switches.map((one) => {
        const address = moves.has(vlan.name) ? undefined : kept?.switches.get(one.raw.name)?.get(vlan.name);
        const number = address === undefined ? 0 : address - (bases[side] ?? 0);
        return number > 0 && number < firstUnit ? number : undefined;
      }),
    );
    const taken = new Set(known.flat());
    const free: number[] = [];
    for (let number = 1; number < firstUnit; number++)
      if (!taken.has(number) && bases.every((base) => !clear.addresses.has(base + number))) free.push(number);
    const clearNumbers = free.length;
    const most = Math.max(...vlans.map(({ network }) => network.switches.length));
    const give: (number | undefined)[] = Array.from({ length: Math.max(3, most) }, (_, index) => {
      const kepts = known.flatMap((numbers) => numbers[index] ?? []);
      return kepts[0] ?? free.shift();
    });
    for (const [side, vlan] of vlans.entries()) {
      const switches = new Map<SwitchDemand, number>();
      vlan.network.switches.forEach((one, index) => {
        const number = known[side]?.[index] ?? give[index];
        if (number !== undefined) switches.set(one, number);
      });
      const [gateway, second, third] = give;
      const subnet = subnets.get(vlan);
      if (
        gateway === undefined ||
        second === undefined ||
        third === undefined ||
        switches.size < vlan.network.switches.length
      )
        return refused({
          what: `VLAN ${vlan.name} needs ${Math.max(3, most)} clear numbers from 1 to ${firstUnit - 1} of ${subnet === undefined ? 'its subnet' : cidr(subnet)} for its gateway and switches, and ${clearNumbers} ${agree(clearNumbers, 'is', 'are')} clear`,
          at: ['networks', vlan.network.index],
          short: { of: `numbers for switches in VLAN ${vlan.name}`, needed: Math.max(3, most), has: clearNumbers },
          changes: [
            ...(vlan.network.raw.addresses === undefined
              ? []
              : [
                  {
                    path: ['networks', vlan.network.index, 'addresses'],
                    value: undefined,
                    words: 'leave `addresses` out, so that a block is picked',
                  },
                ]),
            ...lessClear(demand.request.keepClear?.addresses, 'addresses'),
          ],
        });
      const [core] = vlan.network.switches;
      found.set(vlan, {
        gateway: core === undefined ? gateway : (switches.get(core) ?? gateway),
        switches,
        queriers: vlan.network.switches.length === 0 ? [second, third] : [],
      });
    }
  }
  return found;
}

/** All reserved numbers of a VLAN. */
export function reservedNumbers({ gateway, switches, queriers }: Reserved): ReadonlySet<number> {
  return new Set([gateway, ...switches.values(), ...queriers]);
}
