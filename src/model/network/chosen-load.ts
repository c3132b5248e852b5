/** What inputs that switch put on each link and port in the worst case for it, beside what comes there anyway. */
import type { Leg, Link, Port } from '../../plan/types.js';
import type { FlowRate } from '../streams/index.js';
import { choiceWays } from './choice-ways.js';
import type { Flow, Network } from './flows.js';
import { worstChoice, type Place, type WorstChoice } from './worst-choice.js';

export type RateOf = (flow: Flow) => FlowRate | undefined;

/** Rates in bit/s. Each place has a worst case of its own: all of them together need not come about at once. */
export interface ChosenLoad {
  /** On each link that carries any, as the link itself carries it; undefined in a direction without. */
  readonly links: ReadonlyMap<
    Link,
    { readonly there: WorstChoice<Flow> | undefined; readonly back: WorstChoice<Flow> | undefined }
  >;
  /** Towards the host. */
  readonly ports: ReadonlyMap<Port, WorstChoice<Flow>>;
}

/** The part of a load that inputs choose, in the worst case for the place. */
export interface Chosen {
  readonly bps: number;
  /** The same where inputs that do not say so leave the last stream before they join the next. */
  readonly leftFirstBps: number;
  /** What is chosen, the heaviest first; empty where only a bound is known. */
  readonly legs: readonly Leg[];
  /** False: no choice puts more there, and perhaps none so much. */
  readonly exact: boolean;
}

/** Of one port, or of all members of an aggregate together. */
export function chosenOf([first, ...others]: readonly (WorstChoice<Flow> | undefined)[]): Chosen | undefined {
  if (first === undefined) return undefined;
  return {
    bps: others.reduce((sum, one) => sum + (one?.total ?? 0), first.total),
    leftFirstBps: others.reduce((sum, one) => sum + (one?.leftFirst ?? 0), first.leftFirst),
    legs: [...new Set(first.items.map(({ leg }) => leg))],
    exact: first.exact,
  };
}

/** What of a load comes about for sure, in one choice or another, by what the plan states. */
export function sureBps(loadBps: number, chosen: Chosen | undefined): number {
  if (chosen === undefined) return loadBps;
  return loadBps - chosen.bps + (chosen.exact ? chosen.leftFirstBps : 0);
}

export function chosenLoad(network: Network, unchosen: readonly Flow[], rateOf: RateOf): ChosenLoad {
  const ways = choiceWays(network, unchosen);
  const links = [...ways.links].map(([link, { there, back, share }]) => {
    const on = (place: Place<Flow>) => worstChoice(place, (flow) => (rateOf(flow)?.onLink ?? 0) * share);
    return [link, { there: on(there), back: on(back) }] as const;
  });
  const ports = [...ways.ports].flatMap(([port, place]) => {
    const worst = worstChoice(place, (flow) => rateOf(flow)?.onPort ?? 0);
    return worst === undefined ? [] : [[port, worst] as const];
  });
  return { links: new Map(links), ports: new Map(ports) };
}
