/** What the driver is asked to build and do, and how things of a plan are called there. */
import type { Interface, Port, Switch, Vlan } from '../../src/plan/types.js';
import { formatAddress, type Address } from '../../src/values/address.js';
import type { Plane } from './rigs.js';

/** What the driver is asked to do. */
export interface BenchSpec extends Fabric {
  readonly plane: Plane;
  readonly hosts: readonly (PortSpec & {
    readonly name: string;
    readonly address: string;
    readonly address6?: string | undefined;
    readonly igmpVersion?: number | undefined;
    readonly mldVersion?: number | undefined;
  })[];
  readonly streams: readonly { readonly host: string; readonly group: string }[];
  readonly steps: readonly StepSpec[];
}

export interface BridgeSpec {
  readonly name: string;
  readonly switch: string;
  readonly options: string;
  readonly address?: string | undefined;
  readonly address6?: string | undefined;
}

/** Everything that forwards, as one plane builds it. */
export interface Fabric {
  readonly switches: readonly { readonly name: string; readonly settings?: readonly string[] }[];
  readonly bridges: readonly BridgeSpec[];
  readonly links: readonly { readonly name: string; readonly ends: readonly [LinkEndSpec, LinkEndSpec] }[];
  readonly portOf: (one: Interface) => PortSpec;
}

export interface PortSpec {
  readonly switch: string;
  readonly port: string;
  /** Linux: the bridge it hangs on, and settings of `ip link set … type bridge_slave`. */
  readonly bridge?: string;
  readonly options?: string;
  /** Linux: groups bound to it by hand. */
  readonly bound?: readonly string[];
  /** Open vSwitch: settings of the port. */
  readonly settings?: readonly string[];
}

/** `arrives` names what comes in at this end, by its VLAN id; 0 where it has no tag. */
export type LinkEndSpec = PortSpec & { readonly arrives: Readonly<Record<string, string>> };

export type StepSpec =
  | { readonly do: 'wait'; readonly seconds: number }
  | { readonly do: 'join'; readonly host: string; readonly group: string; readonly source?: string | undefined }
  /** `aloud`: with a leave message of IGMPv2, whether the kernel sends one or not. */
  | { readonly do: 'leave'; readonly host: string; readonly group: string; readonly aloud?: boolean }
  | { readonly do: 'query' | 'query6'; readonly host: string; readonly version: number }
  | { readonly do: 'hello' | 'silence'; readonly host: string }
  | { readonly do: 'bridge'; readonly switch: string; readonly name: string; readonly options: string }
  | { readonly do: 'cut'; readonly link: string }
  | { readonly do: 'off'; readonly switch: string }
  /** What would age in minutes is forgotten at once. */
  | { readonly do: 'forget' }
  | { readonly do: 'send' };

/** What a plan cannot say. */
export interface Extras {
  /** Steps after the first time all senders have sent. */
  readonly then?: readonly StepSpec[];
  /** Further settings of every bridge port, as `ip link set … type bridge_slave` takes them. */
  readonly portOptions?: string;
  /** IGMP version of hosts that speak it whatever they hear. */
  readonly hostVersions?: Readonly<Record<string, number>>;
  /** Version of the bridges where the plan's, the lowest in the VLAN, is that of a device. */
  readonly bridgeVersion?: number;
  /** Switches that do not snoop at all. */
  readonly unmanaged?: readonly string[];
  /** How long to wait before the first send, where the timers do not decide it. */
  readonly settleS?: number;
  /** How long receivers wait before they join. */
  readonly joinAfterS?: number;
}

export function hostName(one: Interface): string {
  return one.device.name;
}

/** `from>to@vlan`. */
export function linkName(from: Switch, to: Switch, vlan: Vlan): string {
  return `${from.name}>${to.name}@${vlan.name}`;
}

/** Whether a plan sets a port as one behind which a multicast router stands. */
export function isRouterPort(port: Port, vlan: Vlan): boolean {
  return port.switch.routerPorts.some((one) => (one.vlan ?? vlan) === vlan && one.ports.includes(port));
}

/** Groups that a plan binds to a port. */
export function boundTo(port: Port, vlan: Vlan): readonly string[] {
  return port.switch.bindings
    .filter((one) => (one.vlan ?? vlan) === vlan && one.ports.includes(port))
    .flatMap(({ groups }) =>
      groups.map(({ first, last }) => {
        if (first !== last) throw new Error('a Linux bridge binds one group at a time');
        return textOf(first);
      }),
    );
}

export function listedTrunk(port: Port): readonly Vlan[] {
  if (port.trunk === undefined || port.trunk === 'all') throw new Error('the plan must list the VLANs of a trunk');
  return port.trunk;
}

export function portOf(one: Interface): Port {
  if (one.port === undefined) throw new Error(`${one.device.name} is on no port`);
  return one.port;
}

export function vlanOf(one: Interface): Vlan {
  if (one.vlan === undefined) throw new Error(`${one.device.name} is in no VLAN`);
  return one.vlan;
}

export function textOf(address: Address | undefined): string {
  if (address === undefined) throw new Error('an address is missing');
  return formatAddress(address);
}
