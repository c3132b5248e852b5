/** What a crew has to do, box by box, to bring a rig from one plan to another. */

/** Box a step is done at. `plan`: nothing to set, only what is written changes (conventions ranges, formats, names). `server`: what hands out addresses. */
export interface Box {
  readonly kind: 'device' | 'switch' | 'server' | 'plan';
  readonly name: string;
}

/**
 * What is done. `patch`: a receiver has to be pointed at a stream's new numbers although its own entry, which names the
 * stream, stays as it is.
 */
export type StepAction = 'set' | 'add' | 'remove' | 'rename' | 'patch';

/** Part of a network's work a step belongs to, in the order they are done. */
export type StepPart = 'switches' | 'clocks' | 'interfaces' | 'senders' | 'receivers' | 'cables' | 'paper';

/** One thing one person does at one box. */
export interface Step {
  readonly rig: string;
  readonly action: StepAction;
  readonly box: Box;
  /** What to look for on the box: interface, port, `picture, leg 1`, VLAN. */
  readonly at: string | undefined;
  /** Name of the network it is done on, when that is known. */
  readonly network: string | undefined;
  /** The trade's word for what changes: `group`, `UDP port`, `VLAN id`, `querier`. */
  readonly what: string;
  /** Value in the old plan; absent for what is new. */
  readonly old: string | undefined;
  /** Value in the new plan; absent for what goes. */
  readonly new: string | undefined;
  /** What it follows from: `camera-31/picture moved`. */
  readonly why: string | undefined;
  readonly part: StepPart;
  /** True where it may make two networks one: done once every number is right. */
  readonly joins?: boolean;
  /** What only one may hold at a time (a port, an address, a group, a VLAN id), as keys: what the step gives up. */
  readonly frees?: readonly string[];
  /** And what it takes: not before everybody else who gives it up has done so. */
  readonly claims?: readonly string[];
}

/** A step with its place in the order of work, from 1. */
export interface NumberedStep extends Step {
  readonly number: number;
}

/** Steps done together before the next stage begins. */
export interface Stage {
  readonly title: string;
  /** Name of the network the stage is about; absent for what is about none. */
  readonly network: string | undefined;
  readonly steps: readonly NumberedStep[];
}

/** A network as far as the order of work depends on it. */
export interface StepNetwork {
  readonly rig: string;
  readonly name: string;
  readonly role: string | undefined;
  readonly leg: number | undefined;
}

/** What changed, counted. */
export interface ChangeSummary {
  /** Streams in both plans whose group, destination, source or UDP port changed on some leg. */
  readonly streamsReaddressed: number;
  readonly streamsNew: number;
  readonly streamsGone: number;
  readonly devicesNew: number;
  readonly devicesGone: number;
  readonly devicesRenamed: number;
  /** Devices at which something is done. */
  readonly devicesToTouch: number;
  readonly switchesToTouch: number;
  /** Receivers in both plans that have to be set or pointed anew. */
  readonly receiversAffected: number;
  /** Steps that change nothing but paper. */
  readonly onPaper: number;
}

/** What lies between two plans. */
export interface Comparison {
  readonly steps: readonly Step[];
  readonly summary: ChangeSummary;
  /** Networks of both plans, in the order of the new plan. */
  readonly networks: readonly StepNetwork[];
}
