/**
 * The resolved plan: every name a reference, every address a number, every kind already applied. Everything is
 * read-only; each entity remembers where it was written.
 *
 * Absent facts are `undefined`, never guessed: a rule whose facts are absent stays silent.
 *
 * Longer than a file should be: its types name each other in circles, which modules may not.
 */
import type { FormatFacts } from '../media/format.js';
import type { Essence } from '../media/types.js';
import type { Document } from '../source/document.js';
import type { Address, AddressRange, Prefix } from '../values/address.js';
import type { ClockIdentity } from '../values/clock-identity.js';
import type { Mac } from '../values/mac.js';

export type { Coding } from '../media/codings/index.js';
export type { Essence };

/** Where an entity was written. `base` is the device kind it inherits the rest from. */
export interface Origin {
  readonly document: Document;
  readonly container: object;
  readonly base?: Origin | undefined;
}

export interface Entity {
  readonly origin: Origin;
}

export interface Named extends Entity {
  readonly name: string;
}

/** One rig: what its files promise together. Files that name the same rig, or none, share one. */
export interface Rig {
  readonly name: string;
  readonly conventions: Conventions;
  readonly practice: Practice;
}

/** What a network is for. */
export type NetworkRole = 'media' | 'audio' | 'control' | 'management' | 'intercom' | 'timing' | 'wan' | 'other';

export interface Network extends Named {
  readonly rig: Rig;
  readonly role: NetworkRole | undefined;
  /** Redundancy leg this network serves: 1 or 2 (and so on); absent for networks that carry both or none. */
  readonly leg: number | undefined;
}

export type MulticastMode = 'none' | 'pim-ssm' | 'pim-sm';

export interface Querier extends Entity {
  /** Name of the switch or device meant to send queries. */
  readonly on: Switch | Device | undefined;
  readonly address: Address | undefined;
}

/** IGMP or MLD settings of a VLAN. Times in seconds as RFC 3376 §8 and RFC 3810 §9 state them. */
export interface GroupManagement extends Entity {
  readonly snooping: boolean | undefined;
  readonly version: number | undefined;
  readonly queriers: readonly Querier[];
  readonly queryIntervalS: number | undefined;
  readonly queryResponseIntervalS: number | undefined;
  readonly lastMemberQueryIntervalS: number | undefined;
  readonly robustness: number | undefined;
  readonly unregistered: 'flood' | 'drop' | undefined;
  readonly fastLeave: boolean | undefined;
}

/**
 * Who tells switches where streams go: what receivers join; a controller that programs each stream to the ports of those
 * who take it; or groups bound to ports by hand.
 */
export type Forwarding = 'igmp' | 'controlled' | 'static';

export interface RendezvousPoint extends Entity {
  readonly address: Address;
  /** Groups it serves; absent: all any-source groups. */
  readonly groups: readonly Prefix[] | undefined;
}

/** What a router is told about its interface in a routed VLAN or on a routed link. */
export interface RouterInterface extends Entity {
  readonly on: Switch | Device | undefined;
  /** Cost of the way out by it (RFC 2328 §C.3), above 0. */
  readonly metric: number | undefined;
  /** Its priority to be the designated router (RFC 7761 §4.3.2). */
  readonly priority: number | undefined;
}

export interface MulticastRouting extends Entity {
  readonly mode: MulticastMode;
  readonly routers: readonly (Switch | Device)[];
  /** Of those that state more than that they route. */
  readonly interfaces: readonly RouterInterface[];
  readonly rendezvousPoints: readonly RendezvousPoint[];
}

export interface Vlan extends Named {
  readonly rig: Rig;
  /** 802.1Q VLAN id as written; may be out of range. */
  readonly id: number | undefined;
  readonly network: Network | undefined;
  readonly subnet: Prefix | undefined;
  readonly subnet6: Prefix | undefined;
  readonly gateway: Address | undefined;
  readonly gateway6: Address | undefined;
  readonly mtu: number | undefined;
  readonly dhcp: AddressRange | undefined;
  /** Who tells its switches where streams go; undefined where nobody says: what receivers join. */
  readonly forwarding: Forwarding | undefined;
  readonly igmp: GroupManagement | undefined;
  readonly mld: GroupManagement | undefined;
  readonly routing: MulticastRouting | undefined;
  /** The routed link whose own network this is; undefined for a VLAN somebody wrote. */
  readonly transit: Link | undefined;
  /** Equal for entries of several rigs that a join makes one VLAN. */
  readonly joinedAs: Join | undefined;
}

/** How rigs are joined: VLAN entries that become one VLAN, or networks whose groups and addresses meet. */
export interface Join extends Entity {
  readonly rig: Rig;
  readonly vlans: readonly Vlan[];
  readonly networks: readonly Network[];
}

/** One physical port, already expanded from a range such as `1-32`. */
export interface Port extends Entity {
  readonly switch: Switch;
  readonly name: string;
  readonly rateBps: number | undefined;
  readonly access: Vlan | undefined;
  /** VLANs carried tagged; `all` when the port carries whatever the switch knows. */
  readonly trunk: readonly Vlan[] | 'all' | undefined;
  /** VLAN carried untagged on a trunk. */
  readonly native: Vlan | undefined;
  readonly mtu: number | undefined;
  readonly spanningTree: PortTree | undefined;
}

/** What the spanning tree is set to on a port. */
export interface PortTree {
  readonly cost: number | undefined;
  readonly priority: number | undefined;
}

/** Which protocol a switch runs so that loops do no harm (IEEE 802.1D-2004 §17, IEEE 802.1Q §13). */
export type TreeMode = 'none' | 'stp' | 'rstp' | 'mstp';

export interface SpanningTreeSettings {
  readonly mode: TreeMode;
  /** Steps of 4096; lower wins. */
  readonly priority: number | undefined;
  /** Address in its bridge identifier. */
  readonly mac: Mac | undefined;
  /** How it counts path cost by rate. */
  readonly method: 'long' | 'short' | undefined;
  /** What it does with BPDUs while it runs no tree. */
  readonly bpdus: 'pass' | 'drop' | undefined;
  /** Trees of its own for some VLANs; all others belong to instance 0. Undefined where nobody says. */
  readonly instances: readonly TreeInstance[] | undefined;
}

/** A tree for some VLANs of an MSTP region (IEEE 802.1Q-2022 §13, from memory). */
export interface TreeInstance {
  readonly number: number;
  readonly vlans: readonly Vlan[];
  /** Bridge priority in this tree alone: steps of 4096; lower wins. */
  readonly priority: number | undefined;
}

/** How a switch keys its group table: by multicast MAC, by group, or by source and group. */
export type SnoopingKey = 'mac' | 'group' | 'source-group';

/** An address a switch holds on a VLAN: gateway, querier or management. */
export interface SwitchAddress extends Entity {
  readonly switch: Switch;
  readonly vlan: Vlan | undefined;
  readonly address: Address | undefined;
  readonly prefixLength: number | undefined;
  readonly mac: Mac | undefined;
}

/** Two switches that act as one towards others (IEEE 802.1AX-2020 clause 9). */
export interface SwitchPair {
  readonly rig: Rig;
  readonly name: string;
}

/** Ports behind which a multicast router is set to stand. */
export interface RouterPorts extends Entity {
  /** Absent: all VLANs of its ports. */
  readonly vlan: Vlan | undefined;
  readonly ports: readonly Port[];
}

/** Groups bound to ports by hand. */
export interface Binding extends RouterPorts {
  readonly groups: readonly AddressRange[];
}

export interface Switch extends Named {
  readonly rig: Rig;
  /** Where it stands. */
  readonly area: string | undefined;
  /** The pair it acts in as one switch; both name the same object. */
  readonly pair: SwitchPair | undefined;
  readonly ports: ReadonlyMap<string, Port>;
  readonly addresses: readonly SwitchAddress[];
  /** Overrides what its VLANs say. */
  readonly forwarding: Forwarding | undefined;
  readonly bindings: readonly Binding[];
  /** Set by hand; no other switch knows of them. */
  readonly routerPorts: readonly RouterPorts[];
  /** Overrides what its VLANs say. */
  readonly snooping: boolean | undefined;
  readonly snoopingKey: SnoopingKey | undefined;
  readonly groupTableSize: number | undefined;
  readonly unregistered: 'flood' | 'drop' | undefined;
  readonly noQuerier: 'flood' | 'prune' | undefined;
  readonly tableFull: 'flood' | 'drop' | undefined;
  readonly mtu: number | undefined;
  /** Undefined where nobody says: taken for a tree of default settings, never for none. */
  readonly spanningTree: SpanningTreeSettings | undefined;
  readonly power: readonly string[];
  readonly ptp: PtpSettings | undefined;
}

export interface LinkEnd extends Entity {
  readonly switch: Switch | undefined;
  readonly port: Port | undefined;
  /** As written, for messages. */
  readonly text: string;
}

export interface Link extends Entity {
  readonly rig: Rig;
  readonly name: string | undefined;
  readonly ends: readonly [LinkEnd, LinkEnd];
  readonly rateBps: number | undefined;
  /** VLANs the link is said to carry; absent: what both ends carry. */
  readonly vlans: readonly Vlan[] | undefined;
  readonly medium: string | undefined;
  readonly lengthM: number | undefined;
  readonly delayNs: number | undefined;
  /** Name of the aggregate this link is a member of. */
  readonly aggregate: string | undefined;
  /** Shared risks: multicore, duct, power feed. */
  readonly risks: readonly string[];
  /** The network of its own that a routed link is. */
  readonly transit: Vlan | undefined;
}

/** Essence format. Whatever is absent was not stated. */
export interface Format extends Entity, FormatFacts {}

/** What kind of clock a device or switch is (IEEE 1588-2008 §3.1); `none`: it does not take part in PTP. */
export type PtpMode = 'ordinary' | 'boundary' | 'e2e-transparent' | 'p2p-transparent' | 'none';

/** How PTP messages travel: UDP over IP, or straight in Ethernet frames (IEEE 1588-2008 Annexes D, E, F). */
export type PtpTransport = 'udp-ipv4' | 'udp-ipv6' | 'ethernet';

/** How path delay is measured: end to end, or hop by hop between peers (IEEE 1588-2008 §6.6). */
export type DelayMechanism = 'e2e' | 'p2p';

/** Whether delay requests go to all or to the leader alone (mixed mode). */
export type DelayRequests = 'multicast' | 'unicast';

/** Settings that a clock and its domain may both state. Intervals are log2 of seconds. */
export interface PtpTimings {
  readonly profile: string | undefined;
  readonly transport: PtpTransport | undefined;
  readonly delayMechanism: DelayMechanism | undefined;
  readonly logAnnounceInterval: number | undefined;
  readonly logSyncInterval: number | undefined;
  readonly logMinDelayReqInterval: number | undefined;
  readonly logMinPdelayReqInterval: number | undefined;
  readonly announceReceiptTimeout: number | undefined;
  readonly delayRequests: DelayRequests | undefined;
}

/** PTP settings of a device or switch, those of its kind merged in; judged by the timing model. */
export interface PtpSettings extends Entity, PtpTimings {
  readonly domain: number | undefined;
  readonly mode: PtpMode | undefined;
  readonly priority1: number | undefined;
  readonly priority2: number | undefined;
  readonly clockClass: number | undefined;
  readonly clockAccuracy: number | undefined;
  readonly offsetScaledLogVariance: number | undefined;
  readonly clockIdentity: ClockIdentity | undefined;
  readonly slaveOnly: boolean | undefined;
  /** True for a clock that is meant to lead. */
  readonly grandmaster: boolean | undefined;
  /** True when it is locked to a primary reference. */
  readonly traceable: boolean | undefined;
  /** clockClass once its holdover is over: 52 or 187. */
  readonly afterHoldover: number | undefined;
  readonly twoStep: boolean | undefined;
  /** Seconds it needs from the choice of a master until it is locked to it. */
  readonly settleS: number | undefined;
  /** Followers it can serve. */
  readonly capacity: number | undefined;
  /** Delay requests per second it can answer. */
  readonly delayRequestCapacity: number | undefined;
  /** Interfaces, or ports of a switch with ranges expanded, on which it takes part; absent: all. */
  readonly interfaces: readonly string[] | undefined;
  /** Those on which it only leads. */
  readonly masterOnly: readonly string[];
}

export interface Interface extends Named {
  readonly device: Device;
  readonly vlan: Vlan | undefined;
  /** The VLAN's network, or the one stated for an interface without a VLAN. */
  readonly network: Network | undefined;
  readonly address: Address | undefined;
  readonly prefixLength: number | undefined;
  readonly address6: Address | undefined;
  readonly prefixLength6: number | undefined;
  readonly mac: Mac | undefined;
  readonly port: Port | undefined;
  readonly rateBps: number | undefined;
  readonly gateway: Address | undefined;
  /** The address comes from DHCP; `address`, when given too, is a reservation. */
  readonly dhcp: boolean;
  /** What it speaks, where that is older than its VLAN's. */
  readonly igmpVersion: number | undefined;
  readonly mldVersion: number | undefined;
  /** The bond it is a member of: those of one name on a device are one interface to the network. */
  readonly bond: string | undefined;
  /** Said to have no address, and to need none. */
  readonly unnumbered: boolean;
  /** It never sends a frame of its own, so that switches forget its MAC address. */
  readonly silent: boolean;
}

export interface Leg extends Entity {
  readonly sender: Sender;
  /** From 0; leg 0 is the first path of a redundant pair. */
  readonly index: number;
  readonly interface: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  /** Multicast destination as written: a rule checks that it is one. */
  readonly group: Address | undefined;
  readonly unicast: Address | undefined;
  /** Source address: as stated, else the interface's address of the group's family. */
  readonly source: Address | undefined;
  /** True when the plan states the source, so receivers are expected to filter by it. */
  readonly sourceStated: boolean;
  /** UDP destination port. */
  readonly port: number | undefined;
  readonly sourcePort: number | undefined;
  readonly payloadType: number | undefined;
  readonly packetTimeNs: number | undefined;
  readonly ttl: number | undefined;
  readonly dscp: number | undefined;
  /** Reference and media clock as SDP writes them (RFC 7273 §4, §5). */
  readonly referenceClock: string | undefined;
  readonly mediaClock: string | undefined;
}

export interface Sender extends Named {
  readonly rig: Rig;
  /** Absent for a stream known only from an SDP file or a stream list. */
  readonly device: Device | undefined;
  /** `cam-1/video`, or the stream's own name when no device is known. */
  readonly label: string;
  readonly format: Format | undefined;
  readonly essence: Essence | undefined;
  readonly legs: readonly Leg[];
  /** Media of one session description share this value: RFC 8866 §5.7 lets them share a group on purpose. */
  readonly session: string | undefined;
  /** From what it captures or takes in until its packets leave, as stated for this stream. */
  readonly delayNs: number | undefined;
}

export interface ReceiverLeg extends Entity {
  readonly receiver: Receiver;
  readonly index: number;
  readonly interface: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  /** The leg of the taken sender, when the sender is in the plan. */
  readonly takes: Leg | undefined;
  /** Group joined: as stated, else the taken leg's. */
  readonly group: Address | undefined;
  readonly groupStated: boolean;
  /** Source filter as stated. */
  readonly source: Address | undefined;
  /** How it joins: `any` source, or the `stated` source only; absent when the plan does not say. */
  readonly join: 'any' | 'stated' | undefined;
  readonly port: number | undefined;
  readonly payloadType: number | undefined;
}

/** An input that switches between streams: the one entry of several receivers. */
export interface Selection {
  /** How many streams it takes at once. */
  readonly atOnce: number;
  /** Whether it joins the next before it leaves the last; undefined where the plan does not say. */
  readonly joinsFirst: boolean | undefined;
  /** A receiver for each stream it may take, in plan order; with one that takes nothing where there is none. */
  readonly choices: readonly Receiver[];
}

/** An input with the stream it takes. One that switches is as many receivers as it has choices, all of one label. */
export interface Receiver extends Named {
  readonly rig: Rig;
  readonly device: Device;
  readonly label: string;
  /** What it is a choice of; undefined where it does not switch. */
  readonly selection: Selection | undefined;
  readonly takes: Sender | undefined;
  readonly format: Format | undefined;
  readonly legs: readonly ReceiverLeg[];
  /** How long it holds a stream after it has arrived. */
  readonly bufferNs: number | undefined;
}

export interface Device extends Named {
  readonly rig: Rig;
  readonly kind: Kind | undefined;
  readonly area: string | undefined;
  /** True for a device that routes: it may hold a gateway address. */
  readonly routes: boolean;
  /** The machine a virtual device runs on; those on one host, and a device of its name, share its sockets. */
  readonly host: string | undefined;
  readonly power: readonly string[];
  readonly interfaces: readonly Interface[];
  readonly senders: readonly Sender[];
  readonly receivers: readonly Receiver[];
  /** From input to output, what an input holds included. */
  readonly delayNs: number | undefined;
  readonly ptp: PtpSettings | undefined;
}

export interface Kind extends Named {
  readonly rig: Rig;
  /** True when at least one device is of this kind. */
  readonly used: boolean;
}

/** Groups conventions promise to use, for the streams its other members select. */
export interface ConventionGroups extends Entity {
  readonly network: Network | undefined;
  readonly vlan: Vlan | undefined;
  readonly essence: Essence | undefined;
  readonly ranges: readonly AddressRange[];
}

/** Addresses of the first leg in `first` have their twin at the same offset in `second`. */
export interface LegMapEntry extends Entity {
  readonly first: Prefix;
  readonly second: Prefix;
}

export interface Conventions {
  readonly groups: readonly ConventionGroups[];
  readonly groupMap: readonly LegMapEntry[];
  readonly sourceMap: readonly LegMapEntry[];
  /** What the second leg's UDP port adds to the first's; absent: not promised. */
  readonly portOffset: number | undefined;
  readonly autonomousSystem: number | undefined;
  /** Global unicast prefixes the conventions hold (for RFC 6034 groups). */
  readonly prefixes: readonly Prefix[];
  readonly thresholds: Readonly<Record<string, number>>;
}

/** Where open standards contradict each other: the side this plan takes. */
export interface Practice {
  readonly name: string;
  readonly cites: string;
  /** Prefixes in which media groups may live. */
  readonly groupRanges: readonly Prefix[];
  /** Prefixes whose groups are source-specific. */
  readonly sourceSpecific: readonly Prefix[];
  readonly igmpVersion: number | undefined;
  /** Which of several equal paths a router asks for a stream: RFC 7761 §4.1.5 wants one and does not say which. */
  readonly equalPaths: 'lowest-address' | 'highest-address' | 'spread' | undefined;
  readonly dscp: Readonly<Record<string, number>>;
  readonly ptpDomain: number | undefined;
}

export interface PtpDomain extends Entity, PtpTimings {
  readonly rig: Rig;
  readonly name: string | undefined;
  readonly number: number | undefined;
  /** Edition of the profile, as written: `2015`. */
  readonly edition: string | undefined;
  /** Those meant to lead, the intended one first. */
  readonly grandmasters: readonly (Device | Switch)[];
  /** Networks it runs on; absent: all. */
  readonly networks: readonly Network[] | undefined;
}

/** What a document states of media clocks for its rig. */
export interface MediaTiming extends Entity {
  readonly rig: Rig;
  /** Link offset receivers of sound are set to (AES67 §7.5). */
  readonly linkOffsetNs: number | undefined;
  readonly mediaClock: string | undefined;
}

/** A picture and its sound as the streams they pass, up to the device where they are together. */
export interface LipSync extends Named {
  readonly rig: Rig;
  readonly at: Device | undefined;
  readonly picture: readonly Sender[];
  readonly sound: readonly Sender[];
}

/** Speech there and back, each way as the streams it passes. */
export interface RoundTrip extends Named {
  readonly rig: Rig;
  readonly kind: 'intercom' | 'own-voice';
  readonly there: readonly Sender[];
  readonly back: readonly Sender[];
}

export interface Waiver extends Entity {
  readonly rule: string;
  /** Subject of the accepted finding, as reports print it. */
  readonly subject: string;
  /** The waiver holds only while the finding involves no other party; absent: whoever is involved. */
  readonly parties: readonly string[] | undefined;
  readonly reason: string;
  /** Last day it holds, `YYYY-MM-DD`. */
  readonly until: string | undefined;
}

/** What refers to a name. */
export type Referrer =
  | { readonly kind: 'device'; readonly entity: Device }
  | { readonly kind: 'receiver'; readonly entity: Receiver }
  | { readonly kind: 'stream'; readonly entity: Sender }
  | { readonly kind: 'switch'; readonly entity: Switch }
  | { readonly kind: 'link'; readonly entity: Link }
  | { readonly kind: 'vlan'; readonly entity: Vlan }
  | { readonly kind: 'join'; readonly entity: Join }
  | { readonly kind: 'conventionGroups'; readonly entity: ConventionGroups }
  | { readonly kind: 'ptpDomain'; readonly entity: PtpDomain }
  | { readonly kind: 'lipSync'; readonly entity: LipSync }
  | { readonly kind: 'roundTrip'; readonly entity: RoundTrip };

/** What kind of thing a name is to be the name of; `box`: a switch or a device. */
export type WantedKind =
  'vlan' | 'network' | 'switch' | 'device' | 'box' | 'kind' | 'format' | 'stream' | 'sender' | 'interface' | 'port';

/** What was meant, and of which device or switch it would be a part. */
export interface Wanted {
  readonly kind: WantedKind;
  readonly of?: Device | Switch;
}

/** A name that leads nowhere. */
export interface Unresolved {
  readonly origin: Origin;
  readonly key: string | number;
  readonly wanted: Wanted;
  readonly text: string;
  readonly by: Referrer;
  /** Names it may have meant, all equally close to what is written. */
  readonly suggestions: readonly string[];
}

/** A switch port written in two entries of its switch; the first one counts. */
export interface RepeatedPort {
  readonly switch: Switch;
  readonly name: string;
  readonly first: Origin;
  readonly again: Origin;
}

/** A second description of a stream the plan already knows: an SDP file or list row beside the planned sender. */
export interface Description {
  readonly sender: Sender;
  readonly of: Sender;
}

export interface Plan {
  readonly documents: readonly Document[];
  readonly rigs: readonly Rig[];
  /** The rig a document is a part of. */
  readonly rigOf: (document: Document) => Rig;
  readonly networks: readonly Network[];
  readonly vlans: readonly Vlan[];
  /** Networks of routed links: a VLAN between two switches each, without an 802.1Q id. Not among `vlans`. */
  readonly transits: readonly Vlan[];
  readonly switches: readonly Switch[];
  readonly links: readonly Link[];
  readonly joins: readonly Join[];
  readonly formats: readonly Format[];
  readonly kinds: readonly Kind[];
  readonly devices: readonly Device[];
  readonly interfaces: readonly Interface[];
  /** Senders of devices first, then streams known only by description. */
  readonly senders: readonly Sender[];
  readonly legs: readonly Leg[];
  /** Their senders and legs are not among `senders` and `legs`. */
  readonly descriptions: readonly Description[];
  readonly receivers: readonly Receiver[];
  readonly receiverLegs: readonly ReceiverLeg[];
  readonly ptpDomains: readonly PtpDomain[];
  readonly mediaTimings: readonly MediaTiming[];
  readonly lipSyncs: readonly LipSync[];
  readonly roundTrips: readonly RoundTrip[];
  readonly waivers: readonly Waiver[];
  readonly unresolved: readonly Unresolved[];
  readonly repeatedPorts: readonly RepeatedPort[];
}
