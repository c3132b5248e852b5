/** What a request asks for, every name a reference: networks in pairs, VLANs in pairs, kinds with their ends, devices. */
import type { Essence } from '../plan/types.js';
import type { RawDevice, RawInterface, RawSender, RawSenderLeg } from '../read/raw-plan.js';
import type { RawRequest, RequestLine, RequestNetwork, RequestSwitch } from './request.js';

export interface NetworkDemand {
  readonly raw: RequestNetwork;
  readonly index: number;
  readonly vlans: readonly VlanDemand[];
  /** The network of the other leg. */
  readonly twin: NetworkDemand | undefined;
  readonly switches: readonly SwitchDemand[];
}

export interface VlanDemand {
  readonly name: string;
  readonly network: NetworkDemand;
  /** Its place among the VLANs of its network, the same as that of its twin. */
  readonly index: number;
  readonly twin: VlanDemand | undefined;
  /** Addresses set aside for DHCP as stated. */
  readonly dhcp: number;
  readonly about: string | undefined;
}

/** A VLAN and its twin: numbers are given to both at once. The first leg's VLAN is the first. */
export interface VlanPair {
  readonly vlans: readonly VlanDemand[];
}

export interface SwitchDemand {
  readonly raw: RequestSwitch;
  readonly index: number;
  readonly network: NetworkDemand;
  /** Absent for the core. */
  readonly uplink: SwitchDemand | undefined;
}

export interface InterfaceDemand {
  readonly raw: RawInterface;
  readonly vlan: VlanDemand;
}

export interface StreamLeg {
  readonly raw: RawSenderLeg;
  readonly network: NetworkDemand | undefined;
}

export interface StreamDemand {
  readonly raw: RawSender;
  readonly essence: Essence | undefined;
  readonly legs: readonly StreamLeg[];
}

export interface KindDemand {
  readonly raw: RawDevice;
  readonly interfaces: readonly InterfaceDemand[];
  readonly streams: readonly StreamDemand[];
}

/** Devices of one line of the request, in the order of their numbers. */
export interface LineDemand {
  readonly raw: RequestLine;
  readonly index: number;
  readonly kind: KindDemand;
  /** Place of the area in the request from 0; -1 for none. */
  readonly area: number;
  readonly devices: readonly DeviceDemand[];
  /** Places for devices, those that are away among them. */
  readonly count: number;
  /** Places kept free behind them. */
  readonly spare: number;
}

export interface DeviceDemand {
  readonly name: string;
  readonly line: LineDemand;
  /** Place in its line, from 0. */
  readonly place: number;
}

export interface Demand {
  readonly request: RawRequest;
  readonly networks: readonly NetworkDemand[];
  /** In the order of the request; the first leg's network before its twin. */
  readonly pairs: readonly VlanPair[];
  readonly switches: readonly SwitchDemand[];
  readonly kinds: readonly KindDemand[];
  /** In the order of areas, those without an area last. */
  readonly lines: readonly LineDemand[];
  readonly devices: readonly DeviceDemand[];
  readonly byName: ReadonlyMap<string, DeviceDemand>;
}

/** Percent to keep free when the request does not say. */
const USUAL_GROWTH_PERCENT = 25;

/** What a request keeps free beyond what it asks for, in percent of that. */
export function growthPercent({ growth = USUAL_GROWTH_PERCENT }: RawRequest): number {
  return growth;
}

/** The same of so many places, in whole places. */
export function growthOf(places: number, request: RawRequest): number {
  return Math.ceil((places * growthPercent(request)) / 100);
}

/** Whether a network follows its twin instead of leading it. */
export function isSecond({ raw, twin }: NetworkDemand): boolean {
  return twin !== undefined && raw.leg === 2;
}
