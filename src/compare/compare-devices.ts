/** Steps that follow where devices and their interfaces differ; streams and inputs are compared elsewhere. */
import type { Device, Interface, Port } from '../plan/types.js';
import { networkOfDevice } from './carriers.js';
import type { Context } from './context.js';
import {
  entrySteps,
  factSteps,
  FROM_CARD,
  holding,
  numeral,
  setOf,
  step,
  yesNo,
  type Facts,
  type StepPlace,
  type Value,
} from './facts.js';
import { addressKey, deviceKeys, portKey } from './held.js';
import { pairUp } from './pairing.js';
import type { Step } from './steps.js';
import { addressText, interfaceAddress, macText, rateText, timeText, vlanValue } from './values.js';

export function deviceSteps(context: Context): readonly Step[] {
  const { devices, identity } = context.pairing;
  return [
    ...devices.both.flatMap(([before, after]) => changed(before, after, context)),
    ...devices.gone.flatMap((one) =>
      holding([step(boxPlace(one), 'remove', 'device', one.name, undefined)], deviceKeys(one, identity), []),
    ),
    ...devices.fresh.flatMap((one) =>
      holding(
        [step({ ...boxPlace(one), why: FROM_CARD }, 'add', 'device', undefined, one.name)],
        [],
        deviceKeys(one, identity),
      ),
    ),
  ];
}

function changed(before: Device, after: Device, context: Context): readonly Step[] {
  const place = boxPlace(after);
  const paper: StepPlace = { ...place, box: { kind: 'plan', name: after.name }, part: 'paper' };
  const interfaces = pairUp(before.interfaces, after.interfaces, ({ name }) => name);
  return [
    ...(before.name === after.name ? [] : [step(place, 'rename', 'name', before.name, after.name)]),
    ...factSteps(place, boxFacts(before), boxFacts(after)),
    ...factSteps(
      paper,
      { kind: before.kind?.name, host: before.host, delay: timeText(before.delayNs) },
      { kind: after.kind?.name, host: after.host, delay: timeText(after.delayNs) },
    ),
    ...interfaces.gone.flatMap((old) => interfaceSteps(old, undefined, after, context)),
    ...interfaces.both.flatMap(([old, now]) => interfaceSteps(old, now, after, context)),
    ...interfaces.fresh.flatMap((now) => interfaceSteps(undefined, now, after, context)),
  ];
}

function boxFacts(device: Device): Facts {
  return { area: device.area, 'power feed': setOf(device.power), routing: yesNo(device.routes) };
}

function interfaceSteps(
  before: Interface | undefined,
  after: Interface | undefined,
  device: Device,
  context: Context,
): readonly Step[] {
  const one = after ?? before;
  if (one === undefined) return [];
  const { identity } = context.pairing;
  const place: StepPlace = {
    rig: device.rig.name,
    box: { kind: 'device', name: device.name },
    at: one.name,
    network: one.network?.name,
    part: 'interfaces',
  };
  const paper: StepPlace = { ...place, box: { kind: 'plan', name: device.name }, part: 'paper' };
  const old = before === undefined ? {} : facts(before);
  const now = after === undefined ? {} : facts(after);
  const byPort = setAtSwitch(before) && setAtSwitch(after);
  return [
    ...holding(
      entrySteps(place, 'cable', portText(before?.port, identity), portText(after?.port, identity)),
      [portKey(before?.port, identity)],
      [portKey(after?.port, identity)],
    ),
    ...(byPort ? [] : entrySteps(place, 'VLAN', vlanValue(before?.vlan, identity), vlanValue(after?.vlan, identity))),
    ...holding(
      entrySteps(
        { ...place, why: follows(before, after) },
        'address',
        before && interfaceAddress(before),
        after && interfaceAddress(after),
      ),
      [addressKey(before?.address)],
      [addressKey(after?.address)],
    ),
    ...holding(
      factSteps(place, { 'IPv6 address': address6(before) }, { 'IPv6 address': address6(after) }),
      [addressKey(before?.address6)],
      [addressKey(after?.address6)],
    ),
    ...factSteps(place, old, now),
    ...(followsPort(before) && followsPort(after)
      ? []
      : factSteps(place, { rate: rateText(before?.rateBps) }, { rate: rateText(after?.rateBps) })),
    ...(before === undefined || after === undefined
      ? []
      : factSteps(paper, { 'MAC address': macText(before.mac) }, { 'MAC address': macText(after.mac) })),
  ];
}

/** An access port puts a device into its VLAN; the device itself is set to nothing. */
function setAtSwitch(one: Interface | undefined): boolean {
  return one === undefined || one.vlan === undefined || (one.port?.access ?? one.port?.native) === one.vlan;
}

function facts(one: Interface): Facts {
  const fixed = one.address !== undefined && !one.dhcp;
  return {
    network: one.vlan === undefined && one.network !== undefined ? one.network.name : undefined,
    'IGMP version': numeral(one.igmpVersion),
    'MLD version': numeral(one.mldVersion),
    bond: one.bond,
    gateway: addressText(one.gateway ?? (fixed ? one.vlan?.gateway : undefined)),
    'IPv6 gateway': addressText(one.address6 === undefined ? undefined : one.vlan?.gateway6),
  };
}

function address6(one: Interface | undefined): string | undefined {
  return addressText(one?.address6, one?.prefixLength6 ?? one?.vlan?.subnet6?.length);
}

/** A device runs at the rate of its port; only another one is set there. */
function followsPort(one: Interface | undefined): boolean {
  return one?.rateBps === undefined || one.rateBps === one.port?.rateBps;
}

/** Where its cable is plugged. */
function portText(port: Port | undefined, identity: (thing: object) => number): Value | undefined {
  if (port === undefined) return undefined;
  return { text: `${port.switch.name}/${port.name}`, key: `${identity(port.switch)}/${port.name}` };
}

/** An address that is the same but for its prefix length follows its VLAN. */
function follows(before: Interface | undefined, after: Interface | undefined): string | undefined {
  if (before?.address === undefined || before.address !== after?.address || after.vlan === undefined) return undefined;
  const stated = before.prefixLength !== after.prefixLength;
  return stated ? undefined : `the subnet of VLAN ${after.vlan.name} changed`;
}

function boxPlace(device: Device): StepPlace {
  return {
    rig: device.rig.name,
    box: { kind: 'device', name: device.name },
    network: networkOfDevice(device)?.name,
    part: 'interfaces',
  };
}
