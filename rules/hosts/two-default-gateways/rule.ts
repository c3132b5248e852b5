import { createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  inRig,
  isIPv4,
  mark,
  noted,
  otherPlaces,
  ownerLabel,
  groupBy,
  type Device,
  type Interface,
  type Mark,
  type NonEmpty,
} from '../../../src/doors/rule.js';
import { areSeveral, reachesGateway, type Several, type NetworkRole } from '../../../src/doors/hosts.js';
import { words, type Facts, type Family } from './words.js';

export default defineRule<Facts, 'doubt'>({
  id: 'hosts/two-default-gateways',
  summary: 'A device has gateways on two interfaces',
  severity: 'warning',
  sources: [clause('RFC 1122', '3.3.1.2'), clause('RFC 1122', '3.3.4.2')],
  needs: ['hostGateways'],
  brief: 'two gateways',
  harm: 'unicast',
  *check({ plan }) {
    for (const { family, gateways, boxes } of sameWaysOut(plan.devices)) {
      const [{ device, ways }] = boxes;
      const at = noted(placeOfWay(ways[1]), 'doubt');
      yield {
        subject: `${gateways.join(', ')}${inRig(device.rig)}`,
        parties: [...boxes.map((one) => one.device.name), ...gateways],
        cure: () => cure(boxes.map(({ ways: own }) => own)),
        facts: {
          devices: boxes.map((one) => one.device),
          family,
          ways: boxes.every((box) => namesOf(box) === namesOf(boxes[0])) ? ways.map(named) : gateways,
        },
        at,
        others: otherPlaces(at, [
          ...[ways[0], ...ways.slice(2)].map(placeOfWay),
          ...boxes.slice(1).map((box) => noted(placeOfWay(box.ways[1]), 'doubt' as const)),
        ]),
        touch: { kind: 'device', name: device.name },
      };
    }
  },
  words,
});

interface WayOut {
  readonly one: Interface;
  readonly gateway: string;
}

/** A device with its ways out of one family. */
interface Box {
  readonly device: Device;
  readonly ways: Several<WayOut>;
}

/** Devices of a rig that have the same gateways: one habit, and one thing to decide. */
interface SameWaysOut {
  readonly family: Family;
  /** In the order of their text. */
  readonly gateways: readonly string[];
  readonly boxes: NonEmpty<Box>;
}

function sameWaysOut(devices: readonly Device[]): readonly SameWaysOut[] {
  const found: (Box & { readonly family: Family; readonly key: string })[] = [];
  for (const device of devices) {
    if (device.routes || device.interfaces.length < 2) continue;
    for (const family of ['IPv4', 'IPv6'] as const) {
      const ways = byLabel(
        device.interfaces.flatMap((one) => wayOut(one, family)),
        ({ one }) => ownerLabel(one),
      );
      if (areSeveral(ways))
        found.push({ device, ways, family, key: `${gatewaysOf(ways).join(', ')}${inRig(device.rig)}` });
    }
  }
  return [...groupBy(found, ({ key }) => key).values()].map((same) => ({
    family: same[0].family,
    gateways: gatewaysOf(same[0].ways),
    boxes: byLabel(same, ({ device }) => device.name),
  }));
}

function gatewaysOf(ways: Several<WayOut>): readonly string[] {
  return byLabel([...new Set(ways.map(({ gateway }) => gateway))], (gateway) => gateway);
}

function namesOf({ ways }: Box): string {
  return ways.map(named).join();
}

/** `10.20.10.1 on red`. */
function named({ one, gateway }: WayOut): string {
  return `${gateway} on ${one.name}`;
}

function placeOfWay({ one }: WayOut): Mark<never> {
  return mark(one, ownerLabel(one), 'gateway');
}

/** A gateway the interface cannot reach is `hosts/gateway-differs`'s to say. */
function wayOut(one: Interface, family: Family): readonly WayOut[] {
  const { gateway } = one;
  if (gateway === undefined || isIPv4(gateway) !== (family === 'IPv4') || !reachesGateway(one, gateway)) return [];
  return [{ one, gateway: formatAddress(gateway) }];
}

const CONTROL: ReadonlySet<NetworkRole | undefined> = new Set<NetworkRole>(['control', 'management']);

/** The way out of the control network stays. */
function cure(boxes: readonly (readonly { readonly one: Interface }[])[]): Cure {
  const edits = createEditList();
  for (const ways of boxes) {
    const kept = ways.filter(({ one }) => CONTROL.has(one.network?.role));
    if (kept.length !== 1) return peopleDecide('by which interface the box is controlled from outside');
    for (const { one } of ways) if (one !== kept[0]?.one) edits.remove(one, 'gateway');
  }
  return likely(edits);
}
