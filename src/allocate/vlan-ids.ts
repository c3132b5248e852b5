/** Ids of VLANs: kept ones, then what the network states, then a hundred for each network and ten for each VLAN. */
import type { Clear } from './clear.js';
import type { Demand, NetworkDemand, VlanDemand } from './demand.js';
import type { Kept } from './kept.js';
import { refused, type Refused } from './refusal.js';
import { agree, counted } from '../words/counts.js';

/** Usable ids (IEEE 802.1Q-2022 §9.6); 1 is what switches come with, and carries what nobody set. */
const FIRST_ID = 2;
const LAST_ID = 4094;

/** An id for every VLAN, each once in the rig, or what is missing. */
export function planVlanIds(
  demand: Demand,
  clear: Clear,
  kept: Kept | undefined,
): ReadonlyMap<VlanDemand, number> | Refused {
  const moves = new Set(demand.request.moves ?? []);
  const ids = new Map<VlanDemand, number>();
  const taken = new Set<number>(clear.vlanIds);
  const all = demand.networks.flatMap((network) => network.vlans);
  for (const vlan of all) {
    const id = kept?.vlans.get(vlan.name)?.id;
    if (id === undefined || moves.has(vlan.name)) continue;
    ids.set(vlan, id);
    taken.add(id);
  }
  // Stated ranges first: who may have only these ids goes before who may have any.
  const order = all.toSorted(
    (a, b) => Number(b.network.raw.vlanIds !== undefined) - Number(a.network.raw.vlanIds !== undefined),
  );
  const hundreds = hundredsFor(demand, ids, taken);
  const cursors = new Map<string, number>();
  for (const vlan of order) {
    if (ids.has(vlan)) continue;
    const { raw, index } = vlan.network;
    const [first, last] = rangeOfIds(raw.vlanIds);
    const hundred = hundreds.get(vlan.network);
    const wished = hundred === undefined ? 0 : hundred + (vlan.index + 1) * 10;
    const key = `${first}-${last}`;
    let id = wished > 0 && wished <= LAST_ID && !taken.has(wished) ? wished : undefined;
    if (id === undefined) {
      let next = cursors.get(key) ?? first;
      while (next <= last && taken.has(next)) next++;
      cursors.set(key, next);
      if (next <= last) id = next;
    }
    if (id === undefined) {
      const own = vlan.network.vlans.length;
      const has = own - order.filter((one) => one.network === vlan.network && !ids.has(one)).length;
      const wider = widerIds([first, last], own - has, demand, vlan.network, taken);
      return refused({
        what: `network ${raw.name} needs ${counted(own, 'VLAN id')}, and of ${first === last ? `id ${first}` : `ids ${first} to ${last}`} ${has === 0 ? 'none is' : `only ${has} ${agree(has, 'is', 'are')}`} clear`,
        at: ['networks', index, 'vlanIds'],
        short: {
          of: `VLAN ids of network ${raw.name}`,
          needed: own,
          has,
        },
        changes: [
          ...(wider === undefined
            ? []
            : [{ path: ['networks', index, 'vlanIds'], value: wider, words: `write \`vlanIds: ${wider}\`` }]),
          {
            path: ['networks', index, 'vlanIds'],
            value: undefined,
            words: 'leave `vlanIds` out, so that ids are picked',
          },
        ],
      });
    }
    ids.set(vlan, id);
    taken.add(id);
  }
  return ids;
}

/** For each network whose ids are picked, the first hundred from its own on in which ten for each VLAN is clear. */
function hundredsFor(
  { networks }: Demand,
  ids: ReadonlyMap<VlanDemand, number>,
  taken: ReadonlySet<number>,
): ReadonlyMap<NetworkDemand, number> {
  const found = new Map<NetworkDemand, number>();
  const given = new Set<number>();
  for (const network of networks) {
    if (network.raw.vlanIds !== undefined || network.vlans.length > 9) continue;
    const kept = network.vlans.flatMap((vlan) => ids.get(vlan) ?? [])[0];
    const open = network.vlans.filter((vlan) => !ids.has(vlan));
    const wished = Array.from(
      { length: LAST_HUNDRED },
      (_, step) => ((network.index + step) % LAST_HUNDRED) * 100 + 100,
    );
    const hundred = [...(kept === undefined ? [] : [Math.floor(kept / 100) * 100]), ...wished].find(
      (base) => !given.has(base) && open.every(({ index }) => !taken.has(base + (index + 1) * 10)),
    );
    if (hundred === undefined) continue;
    given.add(hundred);
    found.set(network, hundred);
  }
  return found;
}

const LAST_HUNDRED = 39;

/** The narrowest range that begins alike, or else ends alike, and has so many more clear ids that no other network has stated. */
function widerIds(
  [first, last]: readonly [number, number],
  missing: number,
  { networks }: Demand,
  network: NetworkDemand,
  taken: ReadonlySet<number>,
): string | undefined {
  const others = networks.flatMap((one) =>
    one === network || one.raw.vlanIds === undefined ? [] : [rangeOfIds(one.raw.vlanIds)],
  );
  const isClear = (id: number): boolean => !taken.has(id) && !others.some(([low, high]) => id >= low && id <= high);
  let left = missing;
  for (let id = last + 1; id <= LAST_ID; id++) if (isClear(id) && --left === 0) return `${first}-${id}`;
  left = missing;
  for (let id = first - 1; id >= FIRST_ID; id--) if (isClear(id) && --left === 0) return `${id}-${last}`;
  return undefined;
}

function rangeOfIds(text: string | undefined): readonly [number, number] {
  if (text === undefined) return [FIRST_ID, LAST_ID];
  const [first = FIRST_ID, last = first] = text.split('-').map(Number);
  return [Math.max(1, first), Math.min(LAST_ID, last)];
}
