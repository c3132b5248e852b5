import { append } from '../../collections/group-by.js';
import { pop, push, type Heap } from '../../collections/heap.js';
import { kept } from '../../collections/kept.js';
import type { Link, Plan, Switch, Vlan } from '../../plan/types.js';
import type { Domains } from './domains.js';

/** For a VLAN, from one switch to another. */
export type MissingLinks = (vlan: Vlan, from: Switch, to: Switch) => readonly Link[] | undefined;

interface Step {
  readonly link: Link;
  readonly next: Switch;
}

/**
 * The links to which a VLAN would have to be added so that it gets from one switch to another: those of a path that uses
 * as few of them as it can, and of several such one along links that carry its network already, or its
 * sort: management does not go over a trunk of pictures where that of control is at hand. Undefined where no links lead there at all.
 */
export function missingLinks(plan: Plan, domains: Domains): MissingLinks {
  const neighbours = new Map<Switch, [Step, ...Step[]]>();
  for (const link of plan.links) {
    const [a, b] = [link.ends[0].switch, link.ends[1].switch];
    if (a === undefined || b === undefined || a === b) continue;
    append(neighbours, a, { link, next: b });
    append(neighbours, b, { link, next: a });
  }
  const carried = new Map<Link, readonly Vlan[]>();
  const vlansOn = (link: Link): readonly Vlan[] =>
    kept(carried, link, () => domains.overLink(link).flatMap(({ vlans }) => vlans));
  // More than any path has links: one link fewer counts more than all of them at home.
  const missingCost = 2 * plan.links.length + 1;
  return (vlan, from, to) => {
    const carries = (a: Switch, b: Switch): boolean => {
      const here = domains.onSwitch(a, vlan);
      return here !== undefined && here === domains.onSwitch(b, vlan);
    };
    const costOf = (at: Switch, { link, next }: Step): number =>
      carries(at, next) ? 0 : missingCost + strangeness(vlan, vlansOn(link));
    const came = new Map<Switch, { readonly from: Switch; readonly link: Link } | undefined>();
    const heap: Heap<Reached> = { keys: [], values: [] };
    push(heap, 0, { at: from, cost: 0, step: undefined });
    for (let nearest = pop(heap); nearest !== undefined; nearest = pop(heap)) {
      const { at, cost, step } = nearest;
      if (came.has(at)) continue;
      came.set(at, step);
      if (at === to) break;
      for (const next of neighbours.get(at) ?? []) {
        if (came.has(next.next)) continue;
        const total = cost + costOf(at, next);
        push(heap, total, { at: next.next, cost: total, step: { from: at, link: next.link } });
      }
    }
    return came.has(to) ? walkBack(came, to).filter((link) => !carriesLink(link, carries)) : undefined;
  };
}

/** 0 beside VLANs of its own network, 1 beside others of its sort, 2 elsewhere. */
function strangeness(vlan: Vlan, beside: readonly Vlan[]): number {
  if (beside.some(({ network }) => network === vlan.network)) return 0;
  return beside.some((one) => servesHouse(one) === servesHouse(vlan)) ? 1 : 2;
}

/** Control and management, as against what carries streams and time. */
export function servesHouse({ network }: Vlan): boolean {
  return network?.role === 'control' || network?.role === 'management';
}

interface Reached {
  readonly at: Switch;
  readonly cost: number;
  readonly step: { readonly from: Switch; readonly link: Link } | undefined;
}

function walkBack(
  came: ReadonlyMap<Switch, { readonly from: Switch; readonly link: Link } | undefined>,
  to: Switch,
): readonly Link[] {
  const path: Link[] = [];
  for (let step = came.get(to); step !== undefined; step = came.get(step.from)) path.unshift(step.link);
  return path;
}

function carriesLink(link: Link, carries: (a: Switch, b: Switch) => boolean): boolean {
  const [a, b] = link.ends;
  return a.switch !== undefined && b.switch !== undefined && carries(a.switch, b.switch);
}
