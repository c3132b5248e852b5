/** Waivers: findings accepted on purpose, with a reason and perhaps an end. */
import type { Waiver } from '../plan/types.js';
import { covers } from './baseline.js';
import { type Finding, findingKey } from './finding.js';
import type { WaivedFinding } from './result.js';
import type { WaiverUse } from './rule.js';

export interface WaiverOutcome {
  readonly findings: readonly Finding[];
  readonly waived: readonly WaivedFinding[];
  readonly uses: readonly WaiverUse[];
}

/** `today` is `YYYY-MM-DD`; a waiver holds through its last day. */
export function applyWaivers(findings: readonly Finding[], waivers: readonly Waiver[], today: string): WaiverOutcome {
  const byKey = new Map<string, Waiver[]>();
  for (const waiver of waivers) {
    const key = findingKey({ rule: waiver.rule, subject: waiver.subject });
    const list = byKey.get(key);
    if (list === undefined) byKey.set(key, [waiver]);
    else list.push(waiver);
  }
  const matched = new Set<Waiver>();
  const kept: Finding[] = [];
  const waived: WaivedFinding[] = [];
  for (const finding of findings) {
    const fitting = (byKey.get(findingKey(finding)) ?? []).filter(
      (waiver) => waiver.parties === undefined || covers(waiver.parties, finding.parties),
    );
    for (const waiver of fitting) matched.add(waiver);
    const holding = fitting.find((waiver) => !expired(waiver, today));
    if (holding === undefined) kept.push(finding);
    else waived.push({ finding, reason: holding.reason, until: holding.until });
  }
  const uses = waivers.map((waiver): WaiverUse => ({
    waiver,
    state: !matched.has(waiver) ? 'idle' : expired(waiver, today) ? 'expired' : 'used',
  }));
  return { findings: kept, waived, uses };
}

function expired(waiver: Waiver, today: string): boolean {
  return waiver.until !== undefined && waiver.until < today;
}
