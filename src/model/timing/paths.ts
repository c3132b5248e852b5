/** Which PTP ports hear each other, once it is known what stands: the part of PTP paths that every election asks anew. */
import { kept } from '../../collections/kept.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Interface, Link, Network, Switch } from '../../plan/types.js';
import type { ClockFacts, ClockOwner } from './clocks.js';

/** A place where PTP messages are heard; joined places are one path. */
export interface PathSection {
  readonly title: string;
  readonly networks: ReadonlySet<Network>;
}

/** A PTP port before it is known which path it is on. */
export interface Attachment {
  readonly clock: ClockFacts;
  readonly section: PathSection;
  /** As people name it: an interface, or a switch port. */
  readonly name: string;
  readonly interface: Interface | undefined;
  /** The switch at the other end of a link. */
  readonly towards: Switch | undefined;
  readonly networks: ReadonlySet<Network>;
  readonly masterOnly: boolean;
  /** False when the plan does not say on which switch it stands. */
  readonly placed: boolean;
  readonly needs: Needs;
}

/** What must stand for an attachment or a joint to hold. */
export interface Needs {
  /** Switches, and devices that pass on. */
  readonly boxes: readonly ClockOwner[];
  /** Any one of them; empty: none is needed. */
  readonly links: readonly Link[];
}

export interface Joint {
  readonly sections: readonly [PathSection, PathSection];
  readonly needs: Needs;
}

/** Where every clock stands, and what joins the places. */
export interface PtpTopology {
  readonly attachments: readonly Attachment[];
  readonly joints: readonly Joint[];
}

/** What is gone: nothing, or what a failure takes. */
export interface Gone {
  readonly owners: ReadonlySet<ClockOwner>;
  readonly links: ReadonlySet<Link>;
}

/** Whether what something needs still stands. */
export function holdsWithout(gone: Gone): (needs: Needs) => boolean {
  return ({ boxes, links }) =>
    !boxes.some((one) => gone.owners.has(one)) && (links.length === 0 || links.some((one) => !gone.links.has(one)));
}

/** The path each standing port is on, as a number; a path that loses nothing keeps its own. */
export function pathsWithout(topology: PtpTopology, gone: Gone): ReadonlyMap<Attachment, number> {
  const holds = holdsWithout(gone);
  const union = new UnionFind<PathSection>();
  for (const { sections, needs } of topology.joints) if (holds(needs)) union.union(...sections);
  const numbers = new Map<PathSection, number>();
  const paths = new Map<Attachment, number>();
  for (const [index, attachment] of topology.attachments.entries()) {
    if (gone.owners.has(attachment.clock.owner) || !holds(attachment.needs)) continue;
    const root = union.find(attachment.section);
    paths.set(
      attachment,
      kept(numbers, root, () => index),
    );
  }
  return paths;
}
