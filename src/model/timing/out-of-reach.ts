/** Clocks that may lead, and that no clock meant to lead reaches (IEEE 1588-2008 §9.3.3: who is not heard cannot win). */
import { once } from '../../collections/once.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Link, Plan, Port, Vlan } from '../../plan/types.js';
import { createKnownCuts, type Domains, missingLinks } from '../vlans/index.js';
import type { Timing } from './build-timing.js';
import { isSwitch } from './clocks.js';
import { clocksByName } from './clocks-by-name.js';
import { isPlaced, leadersElsewhere, mayLead, settledIslands } from './intent.js';
import type { Clock } from './timing.js';

export interface OutOfReach {
  /** By name; switches are not among them. */
  readonly clocks: NonEmpty<Clock>;
  /** Those that lead, switches too, and devices that may, the one with most followers first. */
  readonly leading: NonEmpty<Clock>;
  /** Meant to lead this domain of the rig, on other islands, by name. */
  readonly meant: NonEmpty<Clock>;
  /** Undefined where no VLAN stands on both sides, or no links lead from one to the other. */
  readonly gap: ForgottenVlan | undefined;
}

/** A VLAN that stands on both sides, and the links between them that do not carry it. */
export interface ForgottenVlan {
  readonly vlan: Vlan;
  readonly links: NonEmpty<Link>;
  /** Each of the links has a finding of its own: streams miss the VLAN there too, or its ends disagree about it. */
  readonly isKnown: boolean;
}

/** Two PTP ports in one VLAN that do not hear each other. */
interface ParallelEnds {
  readonly vlan: Vlan;
  readonly here: Port;
  readonly there: Port;
}

/** One an island: it has devices, some clock that may lead and none that is meant to, and the rig has such elsewhere. */
export function outOfReach(plan: Plan, domains: Domains, timing: Timing): readonly OutOfReach[] {
  const gapOf = createGaps(plan, domains);
  return settledIslands(timing).flatMap((island): readonly OutOfReach[] => {
    const { clocks, leaders } = island;
    if (clocks.some((one) => one.meantToLead) || !clocks.every(isPlaced)) return [];
    if (clocks.every((one) => timing.barriers.explained.has(one))) return [];
    const first = leaders.map(({ clock }) => clock);
    const able = clocksByName(clocks.filter((one) => mayLead(one) && !isSwitch(one.owner)));
    const leading = [...new Set([...first, ...able])];
    const devices = clocksByName(clocks.filter((one) => !isSwitch(one.owner)));
    if (!isNonEmpty(leading) || !isNonEmpty(devices)) return [];
    const meant = leadersElsewhere(leading[0], island, timing);
    // One whose VLAN is not stated may stand here.
    if (!isNonEmpty(meant) || !meant.every(isPlaced)) return [];
    return [{ clocks: devices, leading, meant, gap: gapOf(endsOf(devices, meant)) }];
  });
}

function createGaps(plan: Plan, domains: Domains): (ends: ParallelEnds | undefined) => ForgottenVlan | undefined {
  const missing = once(() => missingLinks(plan, domains));
  const isKnownCut = once(() => createKnownCuts(plan, domains, missing()));
  return (ends) => {
    if (ends === undefined) return undefined;
    const { vlan, here, there } = ends;
    const links = missing()(vlan, here.switch, there.switch) ?? [];
    if (!isNonEmpty(links)) return undefined;
    return { vlan, links, isKnown: links.every((link) => isKnownCut()(link, vlan)) };
  };
}

function endsOf(here: readonly Clock[], there: readonly Clock[]): ParallelEnds | undefined {
  const places = new Map<Vlan, Port>();
  for (const { port, vlan } of there.flatMap(patched)) if (!places.has(vlan)) places.set(vlan, port);
  for (const { port, vlan } of here.flatMap(patched)) {
    const far = places.get(vlan);
    if (far !== undefined && far.switch !== port.switch) return { vlan, here: port, there: far };
  }
  return undefined;
}

function patched({ ports }: Clock): readonly { readonly port: Port; readonly vlan: Vlan }[] {
  return ports.flatMap(({ attachment }) => {
    const one = attachment.interface;
    return one?.port === undefined || one.vlan === undefined ? [] : [{ port: one.port, vlan: one.vlan }];
  });
}
