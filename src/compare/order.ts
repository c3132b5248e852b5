/** The order a crew works in, so that one leg stays on air and boxes stay reachable. */
import { NATURAL } from './facts.js';
import type { Comparison, NumberedStep, Stage, Step, StepNetwork, StepPart } from './steps.js';

export interface Order {
  readonly stages: readonly Stage[];
  /** Networks for control or management on which nothing changes. */
  readonly untouched: readonly StepNetwork[];
}

/** Within a network: what carries, what times, what sends, what takes. */
const PARTS: readonly StepPart[] = ['switches', 'clocks', 'interfaces', 'senders', 'receivers', 'paper'];

/**
 * First legs, second legs, the other networks, whole boxes; what control and management run on comes last of all that is
 * done at boxes, and paper at the end.
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
    const paper = one.box.kind === 'plan';
    const key = paper ? 'paper' : keyOf(place?.network.rig ?? '', one.network ?? '');
    const draft = drafts.get(key);
    if (draft === undefined)
      drafts.set(key, {
        rank,
        index: place?.index ?? Infinity,
        title: titleOf(one, place?.network, networks),
        network: paper ? undefined : one.network,
        steps: [one],
      });
    else draft.steps.push(one);
  }
  let number = 0;
  const stages = [...drafts.values()]
    .sort((a, b) => a.rank[0] - b.rank[0] || a.rank[1] - b.rank[1] || compareNumbers(a.index, b.index))
    .map(({ title, network, steps: own }): Stage => ({
      title,
      network,
      steps: sorted(own).map((one): NumberedStep => ({ ...one, number: ++number })),
    }));
  const untouched = networks.filter((network) => reaches(network) && !touched.has(keyOf(network.rig, network.name)));
  return { stages, untouched };
}

interface Draft {
  readonly rank: readonly [stage: number, leg: number];
  readonly index: number;
  readonly title: string;
  readonly network: string | undefined;
  readonly steps: Step[];
}

function rankOf({ box }: Step, network: StepNetwork | undefined): Draft['rank'] {
  if (box.kind === 'plan') return [4, 0];
  if (network === undefined) return [2, 0];
  if (reaches(network)) return [3, 0];
  return network.leg === undefined ? [1, 0] : [0, network.leg];
}

/** Whether boxes are reached over a network while they are being set. */
function reaches({ role }: StepNetwork): boolean {
  return role === 'control' || role === 'management';
}

function titleOf(
  { box, network: name }: Step,
  network: StepNetwork | undefined,
  networks: readonly StepNetwork[],
): string {
  if (box.kind === 'plan') return 'On paper only';
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
