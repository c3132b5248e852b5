/** Where streams miss a VLAN on a way that the plan has, and which links have a finding about a VLAN already. */
import { addTo } from '../../collections/group-by.js';
import type { Link, Plan, Vlan } from '../../plan/types.js';
import type { Domains } from './domains.js';
import { linkDifference } from './link-differences.js';
import type { MissingLinks } from './missing-links.js';
import { vlanGaps, type VlanGap } from './vlan-gaps.js';

export interface CutWay {
  readonly gap: VlanGap;
  /** The links that do not carry the VLAN; none where no links lead there. */
  readonly links: readonly Link[];
}

/** Gaps that the links on the way are to blame for. Where ends of one disagree, that is the cause, and the rules on links report it. */
export function cutWays(plan: Plan, domains: Domains, missing: MissingLinks): readonly CutWay[] {
  return vlanGaps(plan, domains).flatMap((gap): readonly CutWay[] => {
    const links = missing(gap.vlan, gap.from, gap.to) ?? [];
    return links.some((link) => linkDifference(link) !== undefined) ? [] : [{ gap, links }];
  });
}

/** Whether a link that does not carry a VLAN has a finding of its own: streams miss it there, or its ends disagree about it. */
export function createKnownCuts(
  plan: Plan,
  domains: Domains,
  missing: MissingLinks,
): (link: Link, vlan: Vlan) => boolean {
  let cut: Map<Vlan, Set<Link>> | undefined;
  return (link, vlan) => {
    if (isAtOdds(link, vlan)) return true;
    if (cut === undefined) {
      cut = new Map();
      for (const { gap, links } of cutWays(plan, domains, missing)) for (const one of links) addTo(cut, gap.vlan, one);
    }
    return cut.get(vlan)?.has(link) === true;
  };
}

/** Ends that disagree about another VLAN alone say nothing of this one. */
function isAtOdds(link: Link, vlan: Vlan): boolean {
  const found = linkDifference(link);
  if (found === undefined) return false;
  return found.untagged !== undefined || found.missing.some(({ vlans }) => vlans.includes(vlan));
}
