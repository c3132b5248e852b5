import { append } from '../../collections/group-by.js';
import type { Link, Plan, Switch, Vlan } from '../../plan/types.js';
import type { Domains } from './domains.js';

interface Step {
  readonly link: Link;
  readonly next: Switch;
}

/**
 * The links to which a VLAN would have to be added so that it gets from one switch to another: those of a path that uses
 * as few of them as it can. Undefined where no links lead there at all.
 */
export function missingLinks(
  plan: Plan,
  domains: Domains,
): (vlan: Vlan, from: Switch, to: Switch) => readonly Link[] | undefined {
  const neighbours = new Map<Switch, [Step, ...Step[]]>();
  for (const link of plan.links) {
    const [a, b] = [link.ends[0].switch, link.ends[1].switch];
    if (a === undefined || b === undefined || a === b) continue;
    append(neighbours, a, { link, next: b });
    append(neighbours, b, { link, next: a });
  }
  return (vlan, from, to) => {
    const carries = (a: Switch, b: Switch): boolean => {
      const here = domains.onSwitch(a, vlan);
      return here !== undefined && here === domains.onSwitch(b, vlan);
    };
    const came = new Map<Switch, { readonly from: Switch; readonly link: Link } | undefined>([[from, undefined]]);
    // Nearest first: everything that can be reached with so many added links before anything that needs one more.
    let near: Switch[] = [from];
    while (near.length > 0) {
      const far: { readonly next: Switch; readonly link: Link; readonly from: Switch }[] = [];
      for (const at of near) {
        for (const { link, next } of neighbours.get(at) ?? []) {
          if (came.has(next)) continue;
          if (carries(at, next)) {
            came.set(next, { from: at, link });
            near.push(next);
          } else far.push({ next, link, from: at });
        }
      }
      near = [];
      for (const step of far) {
        if (came.has(step.next)) continue;
        came.set(step.next, step);
        near.push(step.next);
      }
    }
    return came.has(to) ? walkBack(came, to).filter((link) => !carriesLink(link, carries)) : undefined;
  };
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
