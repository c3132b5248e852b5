/**
 * The entities a plan has by the hundred thousand. They are classes, unlike everything else, because that halves what a
 * large plan costs: each is its own origin, and what few rules ask for is read from the tree when asked.
 */
import type { RawReceiverLeg, RawSenderLeg } from '../../read/raw-plan.js';
import type { Document } from '../../source/document.js';
import type { Address } from '../../values/address.js';
import type {
  Device,
  Essence,
  Format,
  Interface,
  Leg,
  Network,
  Origin,
  Receiver,
  ReceiverLeg,
  Rig,
  Sender,
  Vlan,
} from '../types.js';

class Written implements Origin {
  readonly document: Document;
  readonly container: object;
  readonly base: Origin | undefined;

  constructor(at: Origin) {
    this.document = at.document;
    this.container = at.container;
    this.base = at.base;
  }

  get origin(): Origin {
    return this;
  }
}

export class ResolvedSender extends Written implements Sender {
  readonly rig: Rig;
  readonly device: Device | undefined;
  readonly name: string;
  /** These three are filled in once the sender is there: it is who refers to the format. */
  readonly format: Format | undefined = undefined;
  readonly essence: Essence | undefined = undefined;
  readonly delayNs: number | undefined = undefined;
  readonly legs: readonly Leg[];
  readonly session: string | undefined;

  constructor(
    at: Origin,
    rig: Rig,
    device: Device | undefined,
    name: string,
    legs: readonly Leg[],
    session: string | undefined,
  ) {
    super(at);
    this.rig = rig;
    this.device = device;
    this.name = name;
    this.legs = legs;
    this.session = session;
  }

  get label(): string {
    return this.device === undefined ? this.name : `${this.device.name}/${this.name}`;
  }
}

export class ResolvedLeg extends Written implements Leg {
  readonly sender: Sender;
  readonly index: number;
  readonly interface: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  readonly group: Address | undefined;
  readonly unicast: Address | undefined;
  readonly source: Address | undefined;
  readonly sourceStated: boolean;
  private readonly ownPacketTimeNs: number | undefined;

  constructor(
    at: Origin,
    sender: Sender,
    index: number,
    via: Interface | undefined,
    vlan: Vlan | undefined,
    network: Network | undefined,
    group: Address | undefined,
    unicast: Address | undefined,
    source: Address | undefined,
    sourceStated: boolean,
    packetTimeNs: number | undefined,
  ) {
    super(at);
    this.sender = sender;
    this.index = index;
    this.interface = via;
    this.vlan = vlan;
    this.network = network;
    this.group = group;
    this.unicast = unicast;
    this.source = source;
    this.sourceStated = sourceStated;
    this.ownPacketTimeNs = packetTimeNs;
  }

  get port(): number | undefined {
    return (this.container as RawSenderLeg).port ?? this.below?.port;
  }

  get sourcePort(): number | undefined {
    return (this.container as RawSenderLeg).sourcePort ?? this.below?.sourcePort;
  }

  get payloadType(): number | undefined {
    return (this.container as RawSenderLeg).payloadType ?? this.below?.payloadType;
  }

  get ttl(): number | undefined {
    return (this.container as RawSenderLeg).ttl ?? this.below?.ttl;
  }

  get dscp(): number | undefined {
    return (this.container as RawSenderLeg).dscp ?? this.below?.dscp;
  }

  get referenceClock(): string | undefined {
    return (this.container as RawSenderLeg).referenceClock ?? this.below?.referenceClock;
  }

  get mediaClock(): string | undefined {
    return (this.container as RawSenderLeg).mediaClock ?? this.below?.mediaClock;
  }

  get packetTimeNs(): number | undefined {
    return this.ownPacketTimeNs ?? this.sender.format?.packetTimeNs;
  }

  private get below(): RawSenderLeg | undefined {
    return this.base?.container;
  }
}

export class ResolvedReceiverLeg extends Written implements ReceiverLeg {
  readonly receiver: Receiver;
  readonly index: number;
  readonly interface: Interface | undefined;
  readonly vlan: Vlan | undefined;
  readonly network: Network | undefined;
  readonly takes: Leg | undefined;
  /** As stated. */
  private readonly statedGroup: Address | undefined;
  readonly source: Address | undefined;

  constructor(
    at: Origin,
    receiver: Receiver,
    index: number,
    via: Interface | undefined,
    vlan: Vlan | undefined,
    network: Network | undefined,
    takes: Leg | undefined,
    group: Address | undefined,
    source: Address | undefined,
  ) {
    super(at);
    this.receiver = receiver;
    this.index = index;
    this.interface = via;
    this.vlan = vlan;
    this.network = network;
    this.takes = takes;
    this.statedGroup = group;
    this.source = source;
  }

  get group(): Address | undefined {
    return this.statedGroup ?? this.takes?.group;
  }

  get groupStated(): boolean {
    return this.statedGroup !== undefined;
  }

  get join(): 'any' | 'stated' | undefined {
    return this.raw('join') ?? (this.source === undefined ? undefined : 'stated');
  }

  get port(): number | undefined {
    return this.raw('port');
  }

  get payloadType(): number | undefined {
    return this.raw('payloadType');
  }

  /** A leg that is merely an interface of the receiver stands in the receiver's entry, which has none of these keys. */
  private raw<K extends 'join' | 'port' | 'payloadType'>(key: K): RawReceiverLeg[K] | undefined {
    return (this.container as RawReceiverLeg)[key] ?? (this.base?.container as RawReceiverLeg | undefined)?.[key];
  }
}
