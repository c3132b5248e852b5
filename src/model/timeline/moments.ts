/** What happens after a loss, as typed facts; words come in the report. */
import type { Link, Network as PlanNetwork, Receiver, ReceiverLeg, Vlan } from '../../plan/types.js';
import type { LossKind } from '../timing/index.js';
import type { ClockMoment } from '../timing/index.js';
import type { ElementKind, QuerierChange, Reception, ReceptionLeg, TreeTurn } from '../network/index.js';

/** What is lost: something that fails, or what a clock is locked to, with the clockClass it falls to. */
export interface Lost {
  readonly kind: ElementKind | LossKind;
  readonly name: string;
  readonly clockClass: number | undefined;
}

/** What the plan does not say, so that a time is not known. */
export type Unsaid =
  /** How fast routers find another way. */
  | 'routing'
  /** How long a follower needs to lock. */
  | 'settle'
  /** No start of the clocks that was tried showed it, or they end differently. */
  | 'takeover';

/** Seconds after the loss, from the earliest to the latest. `assumed`: something the plan leaves open was taken for the worse. */
export type When =
  | { readonly kind: 'known'; readonly fromS: number; readonly toS: number; readonly assumed: boolean }
  | { readonly kind: 'not known'; readonly lacks: Unsaid };

/** Legs of one reception. */
export interface Hit {
  readonly reception: Reception;
  readonly legs: readonly ReceptionLeg[];
}

/** What changes alike in several segments and parts of them. */
export type QuerierMoment = Omit<QuerierChange, 'forwarding'>;

export type Happening =
  | { readonly kind: 'lost'; readonly lost: Lost }
  | { readonly kind: 'back'; readonly lost: Lost }
  /** Receivers that are gone with the loss: their streams are nobody's any more. */
  | { readonly kind: 'own inputs'; readonly receivers: readonly Receiver[] }
  /** Receivers lose legs and keep others. `back`: these come again. `why`: with the loss, or as memberships are forgotten. */
  | {
      readonly kind: 'legs off';
      readonly network: PlanNetwork | undefined;
      readonly hits: readonly Hit[];
      /** Networks by whose legs they go on. */
      readonly kept: readonly PlanNetwork[];
      readonly back: boolean;
      readonly why: 'loss' | 'ageing';
    }
  /** Receivers with nothing left. `back`: some leg comes again, or one that did not come before. */
  | { readonly kind: 'dark'; readonly hits: readonly Hit[]; readonly back: boolean; readonly why: 'loss' | 'ageing' }
  /**
   * Legs come again, or for the first time: as a tree has settled, as a report was sent after it had, or through other
   * routers. `dark`: their receivers had nothing until then.
   */
  | {
      readonly kind: 'legs on';
      readonly network: PlanNetwork | undefined;
      readonly hits: readonly Hit[];
      readonly by: 'tree' | 'report' | 'routing';
      readonly dark: boolean;
      readonly first: boolean;
    }
  /** An aggregate has a member less: streams are spread anew on those that are left. */
  | { readonly kind: 'spread anew'; readonly hits: readonly Hit[] }
  | { readonly kind: 'new tree'; readonly turn: TreeTurn }
  /** Switches hear their querier no more. */
  | { readonly kind: 'querier lost'; readonly change: QuerierMoment }
  | { readonly kind: 'querier takes over'; readonly change: QuerierMoment }
  | { readonly kind: 'clocks'; readonly moment: ClockMoment };

export interface Moment {
  readonly when: When;
  readonly what: Happening;
}

/** What a timeline leaves out, by name. */
export type Unfollowed =
  /** Legs that come to nobody while nothing has failed, or whose places the plan does not say. */
  | { readonly kind: 'legs'; readonly legs: readonly ReceiverLeg[] }
  /** That clocks wait for a tree as streams do, where they hear each other over links that it opens. */
  | { readonly kind: 'clocks behind tree'; readonly links: readonly Link[] }
  /** How long a clock holds its class without a reference: its timeline starts when the holdover is over. */
  | { readonly kind: 'holdover'; readonly clock: string }
  /** Streams that come back with what is given back, and a spanning tree that settles anew. */
  | { readonly kind: 'streams' }
  /** Where the queriers of these VLANs stand. */
  | { readonly kind: 'querier places'; readonly vlans: readonly Vlan[] }
  /** The clock of a device that loses one of its interfaces. */
  | { readonly kind: 'clock of interface'; readonly device: string };

/** One loss from its first moment to the last: in the order of time, what has no known time at the end. */
export interface Timeline {
  readonly lost: Lost;
  /** True where it is given back, after all have settled without it: seconds count from then. */
  readonly isReturn: boolean;
  readonly moments: readonly Moment[];
  readonly notFollowed: readonly Unfollowed[];
  /** Receptions that come while nothing has failed. */
  readonly receptions: number;
}
