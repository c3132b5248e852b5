/** Gives every device its unit, and with it addresses and groups that are clear, usable and nobody else's. */
import { growthPercent, type Demand, type DeviceDemand, type StreamDemand } from './demand.js';
import { sizeOf } from './kept.js';
import { unitAt, type Layout } from './layout.js';
import { encode } from './pattern.js';
import { refused, type Refusal, type Refused } from './refusal.js';
import { agree } from '../words/counts.js';
import { lessClear } from './short-addresses.js';
import { rangeOfBlock } from './subnets.js';
import { faultOf, readExceptions, type Exceptions } from './exceptions.js';
import type { AssignContext, Assignment, Held, Numbers } from './assignment.js';

/** All numbers, or what is missing or in the way. */
export function assign(context: AssignContext): Assignment | Refused {
  const { demand, kept, fixed, layout } = context;
  const exceptions = readExceptions(context);
  if (exceptions.refusals.length > 0) return { refusals: exceptions.refusals };
  const moves = new Set(demand.request.moves ?? []);
  const units = new Map<DeviceDemand, number>();
  const owner = new Map<number, string>();
  const fits = (device: DeviceDemand, unit: number): boolean =>
    faultOf(device, unit, context, exceptions) === undefined;
  const give = (device: DeviceDemand, unit: number): void => {
    units.set(device, unit);
    owner.set(unit, device.name);
  };
  const refusals: Refusal[] = [];
  for (const [device, { unit, at }] of [...fixed.units, ...exceptions.units]) {
    if (units.get(device) === unit) continue;
    const fault = units.has(device)
      ? `its other fixed numbers make it ${units.get(device) ?? ''}`
      : owner.has(unit)
        ? `${owner.get(unit) ?? ''} has it`
        : faultOf(device, unit, context, exceptions);
    if (fault === undefined) give(device, unit);
    else
      refusals.push({
        what: `${device.name} can't have unit number ${unit}: ${fault}`,
        at,
        changes: [{ path: at.slice(0, 2), value: undefined, words: 'take this fixed number out' }],
      });
  }
  for (const device of demand.devices) {
    const unit = kept?.devices.get(device.name)?.unit ?? kept?.held.get(device.name)?.unit;
    if (unit === undefined || units.has(device) || moves.has(device.name) || moves.has(device.line.raw.name)) continue;
    const fault = owner.has(unit) ? `${owner.get(unit) ?? ''} has it` : faultOf(device, unit, context, exceptions);
    if (fault === undefined) give(device, unit);
    else
      refusals.push({
        what: `${device.name} can't keep unit number ${unit}: ${fault}`,
        at: ['devices', device.line.index],
        changes: [
          {
            path: ['moves'],
            value: [...(demand.request.moves ?? []), device.name],
            words: `let ${device.name} move: \`moves: [${[...(demand.request.moves ?? []), device.name].join(', ')}]\``,
          },
        ],
      });
  }
  if (refusals.length > 0) return { refusals };
  const held = heldOf(context).filter(({ unit }) => !owner.has(unit));
  const soft = new Set(held.map(({ unit }) => unit));
  const waiting: DeviceDemand[] = [];
  for (const device of demand.devices) {
    if (units.has(device)) continue;
    const unit = unitAt(layout, device.line, device.place);
    if (unit > 0 && !owner.has(unit) && !soft.has(unit) && fits(device, unit)) give(device, unit);
    else waiting.push(device);
  }
  for (const line of demand.lines) for (const unit of awayUnits(line, layout)) soft.add(unit);
  const failed = placeTheRest(waiting, context, { owner, soft, fits, give });
  if (failed.length > 0) return refused(shortOfUnits(failed, context));
  const inBlock = (device: DeviceDemand): boolean =>
    (layout.blocks.get(device.line) ?? []).some(({ first, last }) => {
      const unit = units.get(device) ?? 0;
      return unit >= first && unit <= last;
    });
  const numbers = new Map<DeviceDemand, Numbers>();
  for (const device of demand.devices)
    numbers.set(device, numbersOf(device, units.get(device) ?? 0, context, exceptions));
  const placed = context.hosts === 'unit' ? undefined : placeHosts(numbers, held, context);
  if (placed !== undefined) return placed;
  return {
    numbers,
    held: held.filter(({ unit }) => !owner.has(unit)),
    astray: demand.devices.filter((device) => !inBlock(device)),
  };
}

function numbersOf(device: DeviceDemand, unit: number, context: AssignContext, exceptions: Exceptions): Numbers {
  const { subnets, groups, streams, hosts } = context;
  const { kind, area } = device.line;
  const addresses = new Map(exceptions.addresses.get(device));
  if (hosts === 'unit') {
    for (const { raw, vlan } of kind.interfaces) {
      const subnet = subnets.subnets.get(vlan);
      if (raw.dhcp !== true && !addresses.has(raw.name) && subnet !== undefined)
        addresses.set(raw.name, subnet.first + unit);
    }
  }
  const found = new Map<StreamDemand, readonly (number | undefined)[]>();
  for (const stream of kind.streams) {
    const number = streams.get(stream);
    const fixed = exceptions.groups.get(device)?.get(stream);
    if (number === undefined) continue;
    const offset = encode(groups.pattern, { area: area + 1, unit, stream: number });
    found.set(
      stream,
      fixed ??
        stream.legs.map(({ network }) => {
          const block = network === undefined ? undefined : groups.blocks.get(network);
          return block === undefined ? undefined : block.first + offset;
        }),
    );
  }
  return { unit, addresses, groups: found };
}

interface Giving {
  readonly owner: ReadonlyMap<number, string>;
  readonly soft: ReadonlySet<number>;
  readonly fits: (device: DeviceDemand, unit: number) => boolean;
  readonly give: (device: DeviceDemand, unit: number) => void;
}

/** What the line keeps free first, then behind all blocks, then, where allowed, anywhere; what is held goes last. */
function placeTheRest(
  waiting: readonly DeviceDemand[],
  { layout, anywhere }: AssignContext,
  { owner, soft, fits, give }: Giving,
): readonly DeviceDemand[] {
  const cursors = new Map<object, number>();
  const failed: DeviceDemand[] = [];
  const from = (device: DeviceDemand, key: object, first: number, last: number, useSoft: boolean): boolean => {
    for (let unit = cursors.get(key) ?? first; unit <= last; unit++) {
      if (owner.has(unit) || (!useSoft && soft.has(unit))) continue;
      if (!fits(device, unit)) continue;
      give(device, unit);
      cursors.set(key, unit + 1);
      return true;
    }
    // What does not fit this device may fit one of another kind, so only a device of this line stops here.
    cursors.set(key, last + 1);
    return false;
  };
  const keyed = new Map<string, object>();
  const keyFor = (text: string): object => {
    const known = keyed.get(text) ?? {};
    keyed.set(text, known);
    return known;
  };
  for (const device of waiting) {
    const { line } = device;
    const spare = unitAt(layout, line, line.count);
    const block = layout.blocks.get(line)?.at(-1);
    const done =
      (spare > 0 && block !== undefined && from(device, keyFor(`spare ${line.index}`), spare, block.last, false)) ||
      from(device, keyFor(`behind ${line.index}`), layout.lastPlanned + 1, layout.last, false) ||
      (anywhere &&
        (from(device, keyFor(`any ${line.index}`), layout.firstUnit, layout.last, false) ||
          from(device, keyFor(`held ${line.index}`), layout.firstUnit, layout.last, true)));
    if (!done) failed.push(device);
  }
  return failed;
}

/** Units of devices of a line that are away today. */
function awayUnits(line: Demand['lines'][number], layout: Layout): readonly number[] {
  if (line.raw.count === undefined || (line.raw.without ?? []).length === 0) return [];
  const here = new Set(line.devices.map(({ place }) => place));
  return Array.from({ length: line.count }, (_, place) => place)
    .filter((place) => !here.has(place))
    .map((place) => unitAt(layout, line, place));
}

/** Devices of the earlier plan that are not in the request, and those it held already. */
function heldOf({ demand, kept }: AssignContext): readonly Held[] {
  if (kept === undefined) return [];
  const gone = [...kept.devices].flatMap(([device, { unit, addresses, ports }]): readonly Held[] =>
    unit === undefined || demand.byName.has(device)
      ? []
      : [{ device, unit, addresses: [...addresses.values()], ports }],
  );
  const before = [...kept.held].flatMap(([device, one]): readonly Held[] =>
    demand.byName.has(device) || kept.devices.has(device) ? [] : [{ device, ...one }],
  );
  return [...gone, ...before].sort((a, b) => a.unit - b.unit);
}

/** Addresses by place: kept ones, then the next in the VLAN that is clear on both legs. */
function placeHosts(
  numbers: ReadonlyMap<DeviceDemand, Numbers>,
  held: readonly Held[],
  { demand, kept, subnets, clear, reserved, layout }: AssignContext,
): Refused | undefined {
  const moves = new Set(demand.request.moves ?? []);
  const taken = new Set<number>(held.flatMap(({ addresses }) => addresses));
  for (const { addresses } of numbers.values()) for (const address of addresses.values()) taken.add(address);
  const pairOf = new Map(demand.pairs.flatMap((pair) => pair.vlans.map((vlan) => [vlan, pair] as const)));
  for (const keepsOnly of [true, false]) {
    const cursors = new Map<object, number>();
    for (const device of demand.devices) {
      const own = numbers.get(device)?.addresses;
      if (own === undefined) continue;
      for (const { raw, vlan } of device.line.kind.interfaces) {
        const pair = pairOf.get(vlan);
        if (raw.dhcp === true || own.has(raw.name) || pair === undefined) continue;
        const ends = device.line.kind.interfaces.filter(
          (one) => pair.vlans.includes(one.vlan) && one.raw.dhcp !== true && !own.has(one.raw.name),
        );
        const isFree = (number: number): boolean =>
          ends.every((end) => {
            const subnet = subnets.subnets.get(end.vlan);
            if (subnet === undefined) return false;
            const address = subnet.first + number;
            if (number < 1 || number > sizeOf(subnet.length) - 2 || taken.has(address)) return false;
            if (subnet.dhcp !== undefined && number >= subnet.dhcp.first && number <= subnet.dhcp.last) return false;
            return !clear.addresses.has(address) && reserved.get(end.vlan)?.has(number) !== true;
          });
        const put = (number: number): void => {
          for (const end of ends) {
            const address = (subnets.subnets.get(end.vlan)?.first ?? 0) + number;
            own.set(end.raw.name, address);
            taken.add(address);
          }
        };
        if (keepsOnly) {
          const subnet = subnets.subnets.get(vlan);
          const back = kept?.held.get(device.name)?.addresses.find((address) => {
            const range = subnet === undefined ? undefined : rangeOfBlock(subnet);
            return range !== undefined && address >= range.first && address <= range.last;
          });
          const address = kept?.devices.get(device.name)?.addresses.get(raw.name) ?? back;
          const stays = !moves.has(vlan.name) && !moves.has(device.name) && !moves.has(device.line.raw.name);
          const number = address === undefined || subnet === undefined || !stays ? 0 : address - subnet.first;
          if (number > 0 && isFree(number)) put(number);
          continue;
        }
        const most = Math.min(...ends.map((end) => sizeOf(subnets.subnets.get(end.vlan)?.length ?? 32)));
        let number = cursors.get(pair) ?? layout.firstUnit;
        while (number < most && !isFree(number)) number++;
        if (number >= most) return refused(shortOfUnits([device], { demand, layout }, vlan.name));
        put(number);
        cursors.set(pair, number + 1);
      }
    }
  }
  return undefined;
}

function shortOfUnits(
  failed: readonly DeviceDemand[],
  { demand, layout }: Pick<AssignContext, 'demand' | 'layout'>,
  vlan?: string,
): Refusal {
  const [first] = failed;
  const names = failed.slice(0, 3).map(({ name }) => name);
  const rest = failed.length > 3 ? ` and ${failed.length - 3} more` : '';
  const has = layout.last - layout.firstUnit + 1;
  const growth = growthPercent(demand.request) + 25;
  return {
    what: `${names.join(', ')}${rest} ${agree(failed.length, 'finds', 'find')} no ${vlan === undefined ? `unit number from ${layout.firstUnit} to ${layout.last}` : `address in VLAN ${vlan}`}: too many numbers there are taken or to be kept clear of`,
    at: ['devices', first?.line.index ?? 0],
    short: { of: vlan === undefined ? 'unit numbers' : `addresses of VLAN ${vlan}`, needed: has + failed.length, has },
    changes: [
      ...(growth > 400 ? [] : [{ path: ['growth'], value: growth, words: `keep more free: \`growth: ${growth}\`` }]),
      ...lessClear(demand.request.keepClear?.addresses, 'addresses'),
    ],
  };
}
