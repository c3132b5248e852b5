/** What assigning needs, and the numbers it gives. */
import { type Clear } from './clear.js';
import type { Demand, DeviceDemand, StreamDemand, VlanDemand } from './demand.js';
import type { Fixed } from './fixed.js';
import type { GroupBlocks } from './group-blocks.js';
import { type Kept } from './kept.js';
import { type Layout } from './layout.js';
import { type HostNumbering } from './pattern.js';
import type { StreamNumbers } from './streams.js';
import { type Subnets } from './subnets.js';

export interface Numbers {
  readonly unit: number;
  /** By interface. */
  readonly addresses: Map<string, number>;
  /** By stream, then by leg. */
  readonly groups: Map<StreamDemand, readonly (number | undefined)[]>;
}

export interface Held {
  readonly device: string;
  readonly unit: number;
  readonly addresses: readonly number[];
  /** By interface. */
  readonly ports: ReadonlyMap<string, string>;
}

export interface Assignment {
  readonly numbers: ReadonlyMap<DeviceDemand, Numbers>;
  readonly held: readonly Held[];
  /** Devices that stand outside the block of their line. */
  readonly astray: readonly DeviceDemand[];
}

export interface AssignContext {
  readonly demand: Demand;
  readonly clear: Clear;
  readonly kept: Kept | undefined;
  readonly fixed: Fixed;
  readonly layout: Layout;
  readonly groups: GroupBlocks;
  readonly streams: StreamNumbers;
  readonly subnets: Subnets;
  readonly hosts: HostNumbering;
  /** Numbers of switches and gateways in each VLAN. */
  readonly reserved: ReadonlyMap<VlanDemand, ReadonlySet<number>>;
  /** Whether boxes whose places are not clear may stand among the spare places of others. */
  readonly anywhere: boolean;
}
