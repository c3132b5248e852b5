/** The plan of labs in which memberships age: one VLAN, a sender and a receiver on one switch. */
import type { Timers } from './timers.js';

export interface AgeingPlan {
  readonly timers: Timers;
  readonly queriers: readonly { readonly on: string; readonly address: string }[];
  readonly switches: readonly object[];
  readonly links?: readonly object[];
  /** The switch that the two stand on. */
  readonly at: string;
  /** Further devices. */
  readonly devices?: readonly object[];
  readonly group: string;
}

export function ageingPlan({ timers, queriers, switches, links = [], at, devices = [], group }: AgeingPlan): object {
  return {
    rig: 'Heron',
    vlans: [
      {
        name: 'red',
        id: 10,
        subnet: '10.0.0.0/24',
        igmp: {
          snooping: true,
          version: 2,
          querier: queriers,
          queryInterval: `${String(timers.queryIntervalS)} s`,
          queryResponseInterval: `${String(timers.queryResponseIntervalS)} s`,
          robustness: timers.robustness,
        },
      },
    ],
    switches,
    links,
    devices: [
      ...devices,
      {
        name: 'cam-11',
        interfaces: [{ name: 'red', vlan: 'red', port: `${at}/2`, address: '10.0.0.11/24' }],
        senders: [{ name: 'video', legs: [{ interface: 'red', group, port: 5004 }] }],
      },
      {
        name: 'multiviewer',
        interfaces: [{ name: 'red', vlan: 'red', port: `${at}/3`, address: '10.0.0.12/24' }],
        receivers: [{ name: 'in-1', takes: 'cam-11/video', interfaces: ['red'] }],
      },
    ],
  };
}
