/** The tree of a plan as `schemas/plan.schema.json` admits it. */
import type { RawSpanningTree, RawTreeMode } from './raw-spanning-tree.js';

export interface RawNamed {
  readonly name: string;
}

export interface RawGroupManagement {
  readonly snooping?: boolean;
  readonly version?: number;
  readonly querier?: readonly { readonly on?: string; readonly address?: string }[];
  readonly queryInterval?: number | string;
  readonly queryResponseInterval?: number | string;
  readonly lastMemberQueryInterval?: number | string;
  readonly robustness?: number;
  readonly unregistered?: 'flood' | 'drop';
  readonly fastLeave?: boolean;
}

export interface RawNetwork extends RawNamed {
  readonly role?: 'media' | 'audio' | 'control' | 'management' | 'intercom' | 'timing' | 'wan' | 'other';
  readonly leg?: number;
}

export type RawForwarding = 'igmp' | 'controlled' | 'static';

export interface RawRouterInterface {
  readonly on: string;
  readonly metric?: number;
  readonly priority?: number;
}

export interface RawVlan extends RawNamed {
  readonly id?: number;
  readonly network?: string;
  readonly subnet?: string;
  readonly subnet6?: string;
  readonly gateway?: string;
  readonly gateway6?: string;
  readonly mtu?: number;
  readonly dhcp?: string;
  readonly forwarding?: RawForwarding;
  readonly igmp?: RawGroupManagement;
  readonly mld?: RawGroupManagement;
  readonly routing?: {
    readonly mode: 'none' | 'pim-ssm' | 'pim-sm';
    readonly routers?: readonly string[];
    readonly interfaces?: readonly RawRouterInterface[];
    readonly rp?: readonly { readonly address: string; readonly groups?: readonly string[] }[];
  };
}

export interface RawPtpTimings {
  readonly profile?: string;
  readonly transport?: 'udp-ipv4' | 'udp-ipv6' | 'ethernet';
  readonly delayMechanism?: 'e2e' | 'p2p';
  readonly logAnnounceInterval?: number;
  readonly logSyncInterval?: number;
  readonly logMinDelayReqInterval?: number;
  readonly logMinPdelayReqInterval?: number;
  readonly announceReceiptTimeout?: number;
  readonly delayRequests?: 'multicast' | 'unicast';
}

export interface RawPtp extends RawPtpTimings {
  readonly domain?: number;
  readonly mode?: 'ordinary' | 'boundary' | 'e2e-transparent' | 'p2p-transparent' | 'none';
  readonly priority1?: number;
  readonly priority2?: number;
  readonly clockClass?: number;
  readonly clockAccuracy?: number;
  readonly offsetScaledLogVariance?: number;
  readonly clockIdentity?: string;
  readonly slaveOnly?: boolean;
  readonly grandmaster?: boolean;
  readonly traceable?: boolean;
  readonly afterHoldover?: 52 | 187;
  readonly settle?: string;
  readonly twoStep?: boolean;
  readonly capacity?: number;
  readonly delayRequestCapacity?: number;
  readonly interfaces?: readonly (string | number)[];
  readonly masterOnly?: readonly (string | number)[];
}

export interface RawPtpDomain extends RawPtpTimings {
  readonly name?: string;
  readonly number?: number;
  readonly edition?: string;
  readonly grandmasters?: readonly string[];
  readonly networks?: readonly string[];
}

export interface RawSwitchPort {
  readonly name: string | number;
  readonly rate?: string;
  readonly access?: string;
  readonly trunk?: readonly string[] | 'all';
  readonly native?: string;
  readonly mtu?: number;
  readonly spanningTree?: { readonly cost?: number; readonly priority?: number };
}

export interface RawRouterPorts {
  readonly vlan?: string;
  readonly ports: readonly (string | number)[];
}

export interface RawBinding extends RawRouterPorts {
  readonly groups: readonly string[];
}

export interface RawSwitch extends RawNamed {
  readonly area?: string;
  readonly ports?: readonly RawSwitchPort[];
  readonly addresses?: readonly { readonly vlan?: string; readonly address: string; readonly mac?: string }[];
  readonly pair?: string;
  readonly forwarding?: RawForwarding;
  readonly bindings?: readonly RawBinding[];
  readonly routerPorts?: readonly RawRouterPorts[];
  readonly snooping?: boolean;
  readonly snoopingKey?: 'mac' | 'group' | 'source-group';
  readonly groupTableSize?: number;
  readonly unregistered?: 'flood' | 'drop';
  readonly noQuerier?: 'flood' | 'prune';
  readonly tableFull?: 'flood' | 'drop';
  readonly mtu?: number;
  readonly spanningTree?: RawTreeMode | RawSpanningTree;
  readonly power?: readonly string[];
  readonly ptp?: RawPtp;
}

export interface RawRoutedEnd {
  readonly address?: string;
  readonly metric?: number;
  readonly multicast?: boolean;
}

export interface RawLink {
  readonly name?: string;
  readonly ends: readonly [string, string];
  readonly rate?: string;
  readonly vlans?: readonly string[];
  readonly medium?: string;
  readonly length?: string;
  readonly delay?: string;
  readonly aggregate?: string;
  readonly risks?: readonly string[];
  readonly routed?: readonly [RawRoutedEnd, RawRoutedEnd];
}

export interface RawJoin {
  readonly vlans?: readonly string[];
  readonly networks?: readonly string[];
}

export interface RawFormat {
  readonly name?: string;
  readonly essence?: 'video' | 'audio' | 'data';
  readonly coding?: string;
  readonly width?: number;
  readonly height?: number;
  readonly frameRate?: number | string;
  readonly scan?: 'progressive' | 'interlaced' | 'psf';
  readonly sampling?: string;
  readonly depth?: number | string;
  readonly packing?: 'general' | 'block';
  readonly channels?: number;
  readonly sampleRate?: number;
  readonly sampleBits?: number;
  readonly packetTime?: string;
  readonly maxUdp?: number;
  readonly rate?: string;
}

export interface RawInterface extends RawNamed {
  readonly vlan?: string;
  readonly network?: string;
  readonly address?: string;
  readonly address6?: string;
  readonly mac?: string;
  readonly port?: string;
  readonly rate?: string;
  readonly gateway?: string;
  readonly dhcp?: boolean;
  readonly igmpVersion?: number;
  readonly mldVersion?: number;
  readonly bond?: string;
  readonly unnumbered?: boolean;
  readonly silent?: boolean;
}

export interface RawSenderLeg {
  readonly interface?: string;
  readonly vlan?: string;
  readonly network?: string;
  readonly group?: string;
  readonly unicast?: string;
  readonly source?: string;
  readonly port?: number;
  readonly sourcePort?: number;
  readonly payloadType?: number;
  readonly packetTime?: string;
  readonly ttl?: number;
  readonly dscp?: number;
  readonly referenceClock?: string;
  readonly mediaClock?: string;
}

export interface RawSender extends RawNamed {
  readonly essence?: 'video' | 'audio' | 'data';
  readonly format?: string | RawFormat;
  readonly legs?: readonly RawSenderLeg[];
  readonly delay?: string;
  readonly session?: string;
}

export interface RawReceiverLeg {
  readonly interface?: string;
  readonly vlan?: string;
  readonly network?: string;
  readonly group?: string;
  readonly source?: string;
  readonly join?: 'any' | 'stated';
  readonly port?: number;
  readonly payloadType?: number;
}

export interface RawStreamSet {
  readonly devices?: readonly string[];
  readonly kinds?: readonly string[];
  readonly area?: string;
  readonly essence?: 'video' | 'audio' | 'data';
  readonly sender?: string;
}

export interface RawReceiver extends RawNamed {
  readonly takes?: string | readonly string[] | RawStreamSet;
  readonly atOnce?: number;
  readonly joinsFirst?: boolean;
  readonly format?: string | RawFormat;
  readonly interfaces?: readonly string[];
  readonly legs?: readonly RawReceiverLeg[];
  readonly delay?: string;
}

export interface RawDevice extends RawNamed {
  readonly kind?: string;
  readonly area?: string;
  readonly routes?: boolean;
  readonly host?: string;
  readonly power?: readonly string[];
  readonly delay?: string;
  readonly ptp?: RawPtp;
  readonly interfaces?: readonly RawInterface[];
  readonly senders?: readonly RawSender[];
  readonly receivers?: readonly RawReceiver[];
}

export type RawLegMap = readonly { readonly first: string; readonly second: string }[];

export interface RawConventions {
  readonly groups?: readonly {
    readonly network?: string;
    readonly vlan?: string;
    readonly essence?: 'video' | 'audio' | 'data';
    readonly ranges: readonly string[];
  }[];
  readonly legMap?: {
    readonly groups?: RawLegMap;
    readonly sources?: RawLegMap;
    readonly portOffset?: number;
  };
  readonly autonomousSystem?: number;
  readonly prefixes?: readonly string[];
  readonly thresholds?: Readonly<Record<string, number>>;
}

export interface RawPractice {
  readonly follows?: 'rfc2365' | 'rfc4607' | 'either';
  readonly cites?: string;
  readonly groupRanges?: readonly string[];
  readonly sourceSpecific?: readonly string[];
  readonly igmpVersion?: number;
  readonly equalPaths?: 'lowest-address' | 'highest-address' | 'spread';
  readonly dscp?: Readonly<Record<string, number>>;
  readonly ptpDomain?: number;
}

export interface RawLipSync extends RawNamed {
  readonly at: string;
  readonly picture: readonly string[];
  readonly sound: readonly string[];
}

export interface RawRoundTrip extends RawNamed {
  readonly kind?: 'intercom' | 'own-voice';
  readonly there: readonly string[];
  readonly back: readonly string[];
}

export interface RawTiming {
  readonly domains?: readonly RawPtpDomain[];
  readonly mediaClock?: string;
  readonly linkOffset?: string;
  readonly lipSync?: readonly RawLipSync[];
  readonly roundTrips?: readonly RawRoundTrip[];
}

export interface RawWaiver {
  readonly rule: string;
  readonly subject: string;
  readonly parties?: readonly string[];
  readonly reason: string;
  readonly until?: string;
}

export interface RawNumbering {
  readonly groups?: readonly { readonly field: 'area' | 'unit' | 'stream'; readonly bits: number }[];
  readonly streams?: 'essence' | 'order';
  readonly hosts?: 'unit' | 'place';
  readonly networks?: readonly { readonly network: string; readonly addresses?: string; readonly groups?: string }[];
  readonly areas?: readonly string[];
  readonly blocks?: readonly { readonly devices: string; readonly area?: string; readonly units: string }[];
  readonly held?: readonly {
    readonly device: string;
    readonly unit: number;
    readonly addresses?: readonly string[];
    readonly ports?: readonly { readonly interface: string; readonly port: string }[];
  }[];
}

export interface RawPlan {
  readonly rig?: string;
  readonly practice?: RawPractice;
  readonly conventions?: RawConventions;
  readonly networks?: readonly RawNetwork[];
  readonly vlans?: readonly RawVlan[];
  readonly switches?: readonly RawSwitch[];
  readonly links?: readonly RawLink[];
  readonly joins?: readonly RawJoin[];
  readonly formats?: readonly (RawFormat & RawNamed)[];
  readonly kinds?: readonly RawDevice[];
  readonly devices?: readonly RawDevice[];
  readonly streams?: readonly RawSender[];
  readonly timing?: RawTiming;
  readonly waivers?: readonly RawWaiver[];
  readonly numbering?: RawNumbering;
}
