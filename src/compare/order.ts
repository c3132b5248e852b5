/** The order a crew works in, so that one leg stays on air and boxes stay reachable. */
import { NATURAL } from './facts.js';
import { inSafeOrder } from './safe-order.js';
import type { Comparison, NumberedStep, Stage, Step, StepNetwork, StepPart } from './steps.js';

export interface Order {
  readonly stages: readonly Stage[];
  /** Networks for control or management on which nothing changes. */
  readonly untouched: readonly StepNetwork[];
}

/** Within a network: what carries, what times, what sends, what takes; cables once the numbers on them are right. */
const PARTS: readonly StepPart[] = ['switches', 'clocks', 'interfaces', 'senders', 'receivers', 'cables', 'paper'];

/**
 * Names first; first legs, second legs, the other networks, whole boxes; then what control and management run on; then what makes two
 * networks one, and paper at the end. Whoever takes a port, an address, a group or a VLAN id does so after everybody who
 * gives it up, in a later stage if need be.
 */
export function orderSteps({ steps, networks }: Comparison): Order {
  const known = new Map(networks.map((network, index) => [keyOf(network.rig, network.name), { network, index }]));
  const byName = new Map<string, { network: StepNetwork; index: number } | undefined>();
  for (const one of known.values()) byName.set(one.network.name, byName.has(one.network.name) ? undefined : one);
  const drafts = new Map<string, Draft>();
  const touched = new Set<string>();
  for (const one of steps) {
    const place =
      one.network === undefined ? undefined : (known.get(keyOf(one.rig, one.network)) ?? byName.get(one.network));
    if (one.box.kind !== 'plan' && place !== undefined) touched.add(keyOf(place.network.rig, place.network.name));
    const rank = rankOf(one, place?.network);
    const apart = stageApart(one);
    const key = apart ?? keyOf(place?.network.rig ?? '', one.network ?? '');
    const draft = drafts.get(key);
    if (draft === undefined)
      drafts.set(key, {
        rank,
        index: place?.index ?? Infinity,
        title: titleOf(one, place?.network, networks),
        network: apart === undefined ? one.network : undefined,
        steps: [one],
      });
    else draft.steps.push(one);
  }
  const stages = [...drafts.values()]
    .sort((a, b) => a.rank[0] - b.rank[0] || a.rank[1] - b.rank[1] || compareNumbers(a.index, b.index))
    .map((draft) => ({ ...draft, steps: sorted(draft.steps) }));
  let number = 0;
  return {
    stages: inSafeOrder(stages.map((stage) => stage.steps)).flatMap((own, index): readonly Stage[] => {
      const stage = stages[index];
      if (stage === undefined || own.length === 0) return [];
      const { title, network } = stage;
      return [{ title, network, steps: own.map((one): NumberedStep => ({ ...one, number: ++number })) }];
    }),
    untouched: networks.filter((network) => reaches(network) && !touched.has(keyOf(network.rig, network.name))),
  };
}

interface Draft {
  readonly rank: readonly [stage: number, leg: number];
  readonly index: number;
  readonly title: string;
  readonly network: string | undefined;
  readonly steps: Step[];
}

/** What is done apart from any network. */
function stageApart({ box, joins, action }: Step): 'names' | 'joins' | 'paper' | undefined {
  if (box.kind === 'plan') return 'paper';
  if (joins === true) return 'joins';
  return action === 'rename' ? 'names' : undefined;
}

const RANKS_APART = { names: [-1, 0], joins: [4, 0], paper: [5, 0] } as const;
const TITLES_APART = {
  names: 'New names of boxes, by which all other steps call them',
  joins: 'What makes networks meet, now that every number is right',
  paper: 'On paper only',
} as const;

function rankOf(one: Step, network: StepNetwork | undefined): Draft['rank'] {
  const apart = stageApart(one);
  if (apart !== undefined) return RANKS_APART[apart];
  if (network === undefined) return [2, 0];
  if (reaches(network)) return [3, 0];
  return network.leg === undefined ? [1, 0] : [0, network.leg];
}

/** Whether boxes are reached over a network while they are being set. */
function reaches({ role }: StepNetwork): boolean {
  return role === 'control' || role === 'management';
}

function titleOf(one: Step, network: StepNetwork | undefined, networks: readonly StepNetwork[]): string {
  const { network: name } = one;
  const apart = stageApart(one);
  if (apart !== undefined) return TITLES_APART[apart];
  if (name === undefined) return 'On no one network';
  const several = networks.some((other) => other.rig !== networks[0]?.rig);
  const rig = several && network !== undefined && network.rig !== '' ? ` of ${network.rig}` : '';
  const leg = network?.leg === undefined ? '' : `, leg ${network.leg}`;
  const role = network !== undefined && reaches(network) ? `, last because boxes are reached over it` : '';
  return `Network ${name}${rig}${leg}${role}`;
}

function sorted(steps: readonly Step[]): readonly Step[] {
  return [...steps].sort(
    (a, b) =>
      PARTS.indexOf(a.part) - PARTS.indexOf(b.part) ||
      NATURAL.compare(a.box.name, b.box.name) ||
      NATURAL.compare(a.rig, b.rig) ||
      NATURAL.compare(a.at ?? '', b.at ?? ''),
  );
}

/** Infinity equals itself, where a difference would be no number. */
function compareNumbers(a: number, b: number): number {
  return a === b ? 0 : a < b ? -1 : 1;
}

function keyOf(rig: string, network: string): string {
  return JSON.stringify([rig, network]);
}
