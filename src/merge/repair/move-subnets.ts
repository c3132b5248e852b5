/** Whole subnets that lie on another rig's and can be reached from it move to a free block of the same size. */
import { inPrefix, overlaps, rangeOf, type Address, type Prefix } from '../../values/address.js';
import type { Plan, Rig, Vlan } from '../../plan/types.js';
import { comparePrefixes } from '../../model/hosts/index.js';
import { createFreeBlocks } from '../../model/proposals/index.js';
import { imageOf, preimageOf } from '../../model/groups/index.js';
import type { Model } from '../../model/model.js';
import type { EditList } from '../../edits/edit-list.js';
import type { AddressMove } from '../../edits/move-addresses.js';
import { moveSubnet, shiftedPrefix, stepBetween, type SubnetMove } from '../../edits/move-subnet.js';
import { writeAddresses } from '../../edits/write-moves.js';

type Entry = SubnetMove;

/** Moves what has to move; `keep` never does, else the subnet with fewer hosts. Returns subnets that found no block. */
export function moveSubnets(model: Model, keep: Rig | undefined, edits: EditList): readonly Vlan[] {
  const { plan } = model;
  const stuck: Vlan[] = [];
  const moves: AddressMove[] = [];
  for (const entries of [entriesOf(plan, 'number'), entriesOf(plan, 'bigint')]) {
    const leaving = leavers(entries, model, keep);
    if (leaving.size === 0) continue;
    const blocks = createFreeBlocks(entries.map(({ subnet }) => subnet));
    const given: Prefix[] = [];
    const gone = new Set<Entry>();
    for (const entry of leaving) {
      if (gone.has(entry)) continue;
      const set = withTwin(entry, entries);
      const block = freeBlock(set, entries, given, blocks);
      for (const one of set) gone.add(one);
      if (block === undefined) {
        stuck.push(entry.vlan);
        continue;
      }
      const step = stepBetween(entry.subnet.network, block.network);
      for (const one of set) {
        given.push(shiftedPrefix(one.subnet, step));
        moves.push(...moveSubnet(model, one, step, edits));
      }
    }
  }
  writeAddresses(model, moves, edits);
  return stuck;
}

function entriesOf(plan: Plan, family: 'number' | 'bigint'): readonly Entry[] {
  return plan.vlans
    .flatMap((vlan) =>
      (['subnet', 'subnet6'] as const).flatMap((key): Entry[] => {
        const subnet = vlan[key];
        return subnet === undefined || typeof subnet.network !== family ? [] : [{ vlan, subnet, key }];
      }),
    )
    .sort((a, b) => comparePrefixes(a.subnet, b.subnet));
}

/** Of each two that overlap, meet and are not one VLAN, the one to move. Sorted entries nest or are apart. */
function leavers(entries: readonly Entry[], model: Model, keep: Rig | undefined): ReadonlySet<Entry> {
  const { unicastReach } = model;
  const hosts = new Map<Vlan, number>();
  for (const { vlan } of model.plan.interfaces) if (vlan !== undefined) hosts.set(vlan, (hosts.get(vlan) ?? 0) + 1);
  const leaving = new Set<Entry>();
  const open: Entry[] = [];
  for (const entry of entries) {
    for (let top = open.at(-1); top !== undefined && rangeOf(top.subnet).last < entry.subnet.network; top = open.at(-1))
      open.pop();
    const other = open.findLast(
      (one) =>
        !leaving.has(one) &&
        one.vlan.rig !== entry.vlan.rig &&
        unicastReach.wire(one.vlan) !== unicastReach.wire(entry.vlan) &&
        unicastReach.joined(one.vlan) === unicastReach.joined(entry.vlan),
    );
    open.push(entry);
    if (other === undefined) continue;
    const fewer = (hosts.get(other.vlan) ?? 0) < (hosts.get(entry.vlan) ?? 0) ? other : entry;
    leaving.add(other.vlan.rig === keep ? entry : entry.vlan.rig === keep ? other : fewer);
  }
  return leaving;
}

/** A subnet with that of the other leg, where the conventions derive one from the other. */
function withTwin(entry: Entry, entries: readonly Entry[]): readonly Entry[] {
  const map = entry.vlan.rig.conventions.sourceMap;
  const twin = imageOf(entry.subnet.network, map) ?? preimageOf(entry.subnet.network, map);
  const other = entries.find(
    (one) =>
      one.vlan.rig === entry.vlan.rig && one.subnet.network === twin && one.subnet.length === entry.subnet.length,
  );
  return other === undefined ? [entry] : [entry, other];
}

function freeBlock(
  set: readonly Entry[],
  entries: readonly Entry[],
  given: readonly Prefix[],
  blocks: (like: Prefix) => Prefix | undefined,
): Prefix | undefined {
  const [first, ...rest] = set;
  if (first === undefined) return undefined;
  const map = first.vlan.rig.conventions.sourceMap;
  const mapped = (address: Address): boolean =>
    map.length === 0 || map.some((one) => inPrefix(address, one.first) || inPrefix(address, one.second));
  const bound = mapped(first.subnet.network);
  for (let block = blocks(first.subnet); block !== undefined; block = blocks(block)) {
    const step = stepBetween(first.subnet.network, block.network);
    const all = [block, ...rest.map(({ subnet }) => shiftedPrefix(subnet, step))];
    const clear = (one: Prefix): boolean =>
      !entries.some(({ subnet }) => overlaps(subnet, one)) && !given.some((other) => overlaps(other, one));
    if (all.every((one) => clear(one) && (!bound || mapped(one.network)))) return block;
  }
  return undefined;
}
