/** What can become of a leg on its way to a receiver: one small number each, so that a large plan costs a byte a leg. */

/** Facts without which nobody can tell; what is nearest to an answer first. */
export const LACKS = [
  'rate',
  'source',
  'link',
  'route',
  'several routes',
  'router port',
  'gateway box',
  'gateway',
  'router',
  'routing',
  'sender port',
  'receiver port',
  'sender VLAN',
  'receiver VLAN',
  'sender interface',
  'receiver interface',
  'several holders',
  'address holder',
  'receiver address',
  'group',
  'sender leg',
  'senders',
  'stream',
] as const;
export type Lack = (typeof LACKS)[number];

/** What keeps a leg from a receiver, as far as the plan states it; what is nearest to a delivery first. */
export const DENIALS = [
  'two senders',
  'duplicate address',
  'unusable address',
  'unusable source',
  'unusable MAC',
  'packet size',
  'storm',
  'VLAN id',
  'other UDP port',
  'no querier',
  'not bound',
  'no rendezvous point',
  'time to live',
  'blocked link',
  'no way back',
  'routers apart',
  'no link',
  'no gateway',
  'not routed',
  'port outside VLAN',
  'refused join',
  'other source',
  'not multicast',
  'nobody holds',
  'other address',
  'other group',
  'nobody sends',
] as const;
export type Denial = (typeof DENIALS)[number];

/** 0: delivered; then the facts that lack; then what denies it. The less, the nearer to a delivery. */
export type Fate = number;

export const DELIVERED: Fate = 0;

const FIRST_DENIAL = LACKS.length + 1;

/** Fates by their names, for code that says them. */
export const LACKING = Object.fromEntries(LACKS.map((lack, index) => [lack, index + 1])) as Readonly<
  Record<Lack, Fate>
>;
export const DENIED = Object.fromEntries(DENIALS.map((denial, index) => [denial, index + FIRST_DENIAL])) as Readonly<
  Record<Denial, Fate>
>;

/** The fact that lacks; undefined where none does. */
export function lackOf(fate: Fate): Lack | undefined {
  return LACKS[fate - 1];
}

/** What denies it; undefined where nothing does. */
export function denialOf(fate: Fate): Denial | undefined {
  return DENIALS[fate - FIRST_DENIAL];
}
