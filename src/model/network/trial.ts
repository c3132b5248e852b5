/** What things that fail at once do to single ways: the failure is tried on the network that is left. */
import type { Device, Interface, Switch } from '../../plan/types.js';
import { isBoundAlong } from './bound-detours.js';
import type { Network } from './flows.js';
import { planeOf } from './ground.js';
import { remainsOf, type Remains, type Removal } from './remains.js';
import type { RoutedLosses } from './routed-losses.js';
import { isStarved, type Hanging } from './starvation.js';
import type { TurnedWays } from './turned-ways.js';
import { findsWayAnew, someHang, type Stage, type Way } from './way.js';

/** A failure of several things at once, tried out. */
export interface Trial {
  readonly remains: Remains;
  readonly breaks: (way: Way) => boolean;
  /** Whether it opens a way that the spanning tree keeps blocked. */
  readonly opens: (way: Way) => boolean;
  /** Whether no query comes to a membership any more. */
  readonly starves: (hanging: Hanging) => boolean;
  /** Whether what is starved ends at once, as the tree has turned. */
  readonly turns: (way: Way) => boolean;
  /** Whether a switch or device is gone. */
  readonly gone: (thing: Switch | Device) => boolean;
}

/** How ways of streams change once something is lost. */
export interface Changes {
  readonly routed: Pick<RoutedLosses<unknown>, 'survives'>;
  readonly turned: TurnedWays;
}

export function trialOf(removal: Removal, network: Network, { routed, turned }: Changes): Trial {
  const { boxes, links, interfaces = NO_INTERFACES } = removal;
  const remains = remainsOf(removal, network);
  const { componentOf, treeOf, isLost } = remains;
  const devices = new Set([...boxes].filter((box) => 'interfaces' in box));
  const holds = (stage: Stage, way: Way): boolean => {
    const { forwarding, from, to, router } = stage;
    if (router !== undefined && boxes.has(router)) return false;
    const component = componentOf(forwarding);
    if (component !== undefined && (component[from] === -1 || component[from] !== component[to])) return false;
    return (component === undefined && links.size === 0) || isBoundAlong(treeOf, stage, way, isLost);
  };
  const breaks = (way: Way): boolean =>
    devices.has(way.from.device) ||
    devices.has(way.to.device) ||
    interfaces.has(way.from) ||
    interfaces.has(way.to) ||
    (findsWayAnew(way) ? !routed.survives(way, remains) : isCut(way));
  const isCut = (way: Way): boolean => {
    for (const stage of way.stages) if (!holds(stage, way)) return true;
    return false;
  };
  const starves = (hanging: Pick<Hanging, 'forwarding' | 'at' | 'sources'>): boolean => {
    const component = componentOf(hanging.forwarding) ?? hanging.forwarding.tree.component;
    return isStarved(
      hanging,
      component,
      ({ on, port }) => boxes.has(on) || (port !== undefined && interfaces.has(port)),
    );
  };
  return {
    remains,
    breaks,
    starves,
    turns: (way) => {
      const [{ forwarding }] = way.stages;
      return forwarding.parts.length > 0 && turned.endsAlong(way, treeOf(forwarding));
    },
    opens: (way) => {
      const last = way.stages.at(-1);
      if (last === undefined || breaks(way)) return false;
      if (findsWayAnew(way)) return true;
      const plane = planeOf(last.forwarding, way.leg.group);
      const component = componentOf(last.forwarding) ?? last.forwarding.tree.component;
      return (
        !someHang(plane, last.forwarding, (node) => component[node] === component[last.to]) ||
        !starves({ forwarding: last.forwarding, at: last.to, sources: plane.sources })
      );
    },
    gone: (thing) => boxes.has(thing),
  };
}

const NO_INTERFACES: ReadonlySet<Interface> = new Set();
