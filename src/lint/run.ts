/** Runs rules over a plan. Pure: the same plan, rules and options give the same result, in the same order. */
import { once } from '../collections/once.js';
import { peopleDecide } from '../edits/cure.js';
import { createModel, type Model } from '../model/model.js';
import type { Rateless } from '../model/network/index.js';
import { FACTS, type FactKey } from '../model/facts.js';
import { eachInput } from '../plan/inputs.js';
import type { Entity, Plan, Receiver, Sender } from '../plan/types.js';
import { locateAll } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import { placeOf } from '../plan/place.js';
import { assumed } from './assumed.js';
import { applyBaseline, type Baseline } from './baseline.js';
import { faultOfDraft } from './draft-shape.js';
import type { Effect } from './effect.js';
import { type Concern, createEffects } from './effects.js';
import type { Finding, FindingDraft, LabelledLocation, Mark, Severity, Wording } from './finding.js';
import { didYouMean, NO_PROFILE, thresholdNames, type Profile } from './profile.js';
import type { CrashedRule, LintResult, NotJudged, PlanCounts } from './result.js';
import type { Rule, RuleContext } from './rule.js';
import { type ReceiverVerdicts, verdictsOf } from './receivers.js';
import { boxesOf, createTakers, entitiesOf, legsAmong, nameOf, receiversAmong, takersAmong } from './subjects.js';
import { thresholdsElsewhere, thresholdsOf } from './thresholds.js';
import { applyWaivers } from './waivers.js';
import { byCodeUnit } from '../collections/order.js';

export interface LintOptions {
  readonly profile?: Profile | undefined;
  readonly baseline?: Baseline | undefined;
  /** `YYYY-MM-DD`, for the end dates of waivers. */
  readonly today: string;
  /** True when a part of the plan could not be read: nothing is judged, for a missing part raises false alarms. */
  readonly incomplete?: boolean;
  /** The plan's model, where the caller asks it something else too; made anew when absent. */
  readonly model?: Model | undefined;
}

/** Lints a plan. `problems` are those of inputs that could not be read; they are passed through to the report. */
export function lintPlan(
  plan: Plan,
  rules: readonly Rule[],
  options: LintOptions,
  problems: readonly Problem[] = [],
): LintResult {
  const { active, stated, ready, context, first, second, ran, outcome } = runStages(plan, rules, options);
  const profile = options.profile ?? NO_PROFILE;
  const crashed = [...first.crashed, ...second.crashed];
  // Nothing is said of the network where nothing was judged, or where the model may be what made a rule stop.
  const judged = active.length > 0 && crashed.length === 0;
  const found = [...outcome.findings, ...second.findings];
  const receivers = judged
    ? verdictsOf(context.model, active, [...found, ...outcome.waived.map((one) => one.finding)])
    : undefined;
  const known = withEffects(receivers, [first, second]);
  const all = sorted(found.map(known), plan);
  const compared =
    options.baseline === undefined ? { fresh: all, known: [], stale: [] } : applyBaseline(all, options.baseline, ran);
  return {
    files: plan.documents.map(({ name, format }) => ({ name, format })),
    counts: countsOf(plan),
    boxes: [...plan.devices, ...plan.switches].map(({ name }) => name),
    rulesRun: ready.map((rule) => ({
      id: rule.id,
      summary: rule.summary,
      severity: severityOf(rule, undefined, profile),
      sources: rule.sources,
    })),
    findings: compared.fresh,
    waived: outcome.waived.map((one) => ({ ...one, finding: known(one.finding) })),
    baselineUsed: options.baseline !== undefined,
    known: compared.known,
    staleBaseline: compared.stale.map(({ rule, subject }) => ({ rule, subject })),
    receivers,
    rateless: judged ? context.model.rateless : NO_LINKS,
    // Where no address is stated at all, that says so.
    unaddressed: judged && stated('addresses') ? context.model.unaddressed : [],
    notJudged: notJudged(active, stated),
    assumptions: judged ? assumed(context.model) : [],
    crashed,
    problems: [...problems, ...nameProblems(plan, rules)],
  };
}

/** What rules found, accepted or not. */
export interface Found {
  readonly findings: readonly Finding[];
  readonly waived: readonly Finding[];
}

/** The findings of `lintPlan` where nobody asks what they do to receivers: in no order, their effects not followed. */
export function findIn(model: Model, rules: readonly Rule[], options: LintOptions): Found {
  const { second, ran, outcome } = runStages(model.plan, rules, { ...options, model });
  const findings = [...outcome.findings, ...second.findings];
  return {
    findings: options.baseline === undefined ? findings : applyBaseline(findings, options.baseline, ran).fresh,
    waived: outcome.waived.map(({ finding }) => finding),
  };
}

interface Stages {
  /** Rules that are not switched off, and those of them whose facts the plan states. */
  readonly active: readonly Rule[];
  readonly ready: readonly Rule[];
  readonly stated: (need: FactKey) => boolean;
  readonly context: RuleContext;
  /** Rules that judge the plan, then those that judge its waivers. */
  readonly first: RuleRun;
  readonly second: RuleRun;
  /** Names of the rules of the first that got to their end. */
  readonly ran: ReadonlySet<string>;
  readonly outcome: ReturnType<typeof applyWaivers>;
}

function runStages(plan: Plan, rules: readonly Rule[], options: LintOptions): Stages {
  const profile = options.profile ?? NO_PROFILE;
  const active = options.incomplete === true ? [] : rules.filter((rule) => profile.severity[rule.id] !== 'off');
  const stated = statedFacts(plan);
  const ready = active.filter((rule) => rule.needs.every((need) => stated(need)));
  const context: RuleContext = {
    plan,
    model: options.model ?? createModel(plan),
    threshold: () => Number.NaN,
    thresholdElsewhere: thresholdsElsewhere(ready, profile),
    waivers: [],
  };

  const first = runRules(
    ready.filter((rule) => rule.stage === undefined),
    context,
    profile,
  );
  const ran = new Set(ready.map((rule) => rule.id).filter((id) => !first.crashed.some((crash) => crash.rule === id)));
  const outcome = applyWaivers(first.findings, plan.waivers, options.today);
  // A waiver of a rule that could not judge this plan is not idle: nobody can tell.
  const uses = outcome.uses.filter(({ waiver, state }) => state !== 'idle' || ran.has(waiver.rule));
  const second = runRules(
    ready.filter((rule) => rule.stage === 'waivers'),
    { ...context, waivers: uses },
    profile,
  );
  return { active, ready, stated, context, first, second, ran, outcome };
}

const NO_LINKS: Rateless = { links: [], ports: [] };

interface RuleRun {
  readonly findings: readonly Finding[];
  readonly concerns: ReadonlyMap<Finding, Concern>;
  readonly crashed: readonly CrashedRule[];
}

function runRules(rules: readonly Rule[], context: RuleContext, profile: Profile): RuleRun {
  const drafts: { readonly rule: Rule; readonly draft: FindingDraft; readonly wording: Wording }[] = [];
  const crashed: CrashedRule[] = [];
  for (const rule of rules) {
    try {
      const own: FindingDraft[] = [];
      for (const draft of rule.check({
        ...context,
        threshold: thresholdsOf(rule, profile),
      })) {
        const wrong = faultOfDraft(draft);
        if (wrong !== undefined) throw new Error(`it yields a finding ${wrong}`);
        own.push(draft);
      }
      for (const draft of toldApart(own)) drafts.push({ rule, draft, wording: (facts) => rule.words(facts) });
    } catch (error) {
      crashed.push({ rule: rule.id, message: error instanceof Error ? error.message : String(error) });
    }
  }
  const at = locateAll(
    drafts.flatMap(({ draft }) => [draft.at.place, ...(draft.others ?? []).map((mark) => mark.place)]),
  );
  const place = ({ place, label, note }: Mark): LabelledLocation =>
    note === undefined ? { ...at(place), label } : { ...at(place), label, note };
  const takersOf = createTakers(context.plan);
  const concerns = new Map<Finding, Concern>();
  const findings = drafts.map(({ rule, draft, wording }): Finding => {
    const entities = entitiesOf(draft);
    const finding: Finding = {
      rule: rule.id,
      severity: severityOf(rule, draft.severity, profile),
      confidence: draft.confidence ?? rule.confidence ?? 'certain',
      subject: draft.subject,
      parties: [...new Set(draft.parties ?? [])].sort(byCodeUnit),
      facts: draft.facts,
      wording,
      ...curingOf(rule, draft),
      brief: { of: nameOf(draft), fault: rule.brief ?? rule.summary },
      effect: NOT_YET,
      boxes: [...boxesOf(entities)].map(({ name }) => name),
      at: place(draft.at),
      others: (draft.others ?? []).map(place),
      touch: draft.touch,
      sources: draft.sources ?? rule.sources,
    };
    concerns.set(finding, concernOf(rule, draft, entities, takersOf));
    return finding;
  });
  return { findings, concerns, crashed };
}

/** Until verdicts are known. */
const NOT_YET: Effect = { kind: 'unknown', dark: [], behind: [], doubtful: [], spoiled: [], weakened: [] };

/** Only a stream that one failure takes is taken from all its receivers; what is unfit is so where the rule says. */
function concernOf(
  { harm: stated, severity, explains }: Rule,
  draft: FindingDraft,
  entities: ReadonlySet<Entity>,
  takersOf: (sender: Sender) => readonly Receiver[],
): Concern {
  const harm = typeof stated === 'object' ? stated[draft.severity ?? severity] : stated;
  const legs = explains === undefined ? [] : legsAmong(entities, takersOf);
  if (harm !== 'spoils' && harm !== 'exposes') return { harm, receivers: undefined, legs };
  const named = draft.hits === undefined || draft.hits.length === 0 ? receiversAmong(entities) : draft.hits;
  return { harm, receivers: named ?? (harm === 'exposes' ? takersAmong(entities, takersOf) : undefined), legs };
}

function withEffects(receivers: ReceiverVerdicts | undefined, runs: readonly RuleRun[]): (finding: Finding) => Finding {
  const effectOf = createEffects(receivers);
  return (finding) => {
    const run = runs.find(({ concerns }) => concerns.has(finding));
    const effect = effectOf(finding, run?.concerns.get(finding) ?? NO_CONCERN);
    const { dark, doubtful, weakened = [] } = effect;
    const { kind, name } = finding.touch;
    const boxes = new Set([
      ...(kind === 'device' || kind === 'switch' ? [name] : []),
      ...finding.boxes,
      ...[...dark, ...doubtful, ...weakened].map(({ device }) => device.name),
    ]);
    return { ...finding, effect, boxes: [...boxes].sort(byCodeUnit) };
  };
}

const NO_CONCERN: Concern = { harm: undefined, receivers: undefined, legs: [] };

function curingOf({ people }: Rule, { cure }: FindingDraft): Pick<Finding, 'curing'> {
  if (cure !== undefined) return { curing: once(cure) };
  return people === undefined ? {} : { curing: () => peopleDecide(people) };
}

/**
 * Two parts of one VLAN may each have the same fault: their keys get the first party of each, and only then, so that a
 * fault elsewhere that splits a VLAN changes no key.
 */
function toldApart(drafts: readonly FindingDraft[]): readonly FindingDraft[] {
  const seen = new Set<string>();
  const double = new Set<string>();
  for (const { subject } of drafts) (seen.has(subject) ? double : seen).add(subject);
  if (double.size === 0) return drafts;
  return drafts.map((draft) => {
    const [party] = double.has(draft.subject) ? [...(draft.parties ?? [])].sort(byCodeUnit) : [];
    return party === undefined ? draft : { ...draft, subject: `${draft.subject} (${party})` };
  });
}

/** The profile's word counts most; else the finding's own, else the rule's. */
function severityOf(rule: Rule, own: Severity | undefined, profile: Profile): Severity {
  const set = profile.severity[rule.id];
  return set !== undefined && set !== 'off' ? set : (own ?? rule.severity);
}

function statedFacts(plan: Plan): (need: FactKey) => boolean {
  const known = new Map<FactKey, boolean>();
  return (need) => {
    let stated = known.get(need);
    if (stated === undefined) known.set(need, (stated = FACTS[need].stated(plan)));
    return stated;
  };
}

/** One entry a missing fact, however many families wait for it. */
function notJudged(rules: readonly Rule[], stated: (need: FactKey) => boolean): readonly NotJudged[] {
  const waiting = new Map<FactKey, Rule[]>();
  for (const rule of rules) {
    const missing = rule.needs.filter((need) => !stated(need));
    // A rule that waits for something the plan need not have is not waiting for a fact.
    if (missing.some((need) => FACTS[need].optional)) continue;
    for (const need of missing) {
      const list = waiting.get(need);
      if (list === undefined) waiting.set(need, [rule]);
      else list.push(rule);
    }
  }
  return [...waiting].map(([fact, list]) => ({ fact, rules: list.map((rule) => rule.id) }));
}

/** Rule and threshold names written in the plan that no rule has. */
function nameProblems(plan: Plan, rules: readonly Rule[]): readonly Problem[] {
  const ids = rules.map((rule) => rule.id);
  const known = new Set(ids);
  const thresholds = thresholdNames(rules);
  const faults = plan.waivers
    .filter((waiver) => !known.has(waiver.rule))
    .map((waiver) => ({
      place: placeOf(waiver, 'rule'),
      what: `no rule is called \`${waiver.rule}\`${didYouMean(waiver.rule, ids)}`,
      instead: '`rigproof rules` lists the rules',
    }));
  for (const document of plan.documents) {
    const conventions = (
      document.value as { readonly conventions?: { readonly thresholds?: Readonly<Record<string, number>> } }
    ).conventions?.thresholds;
    for (const name of Object.keys(conventions ?? {})) {
      if (conventions === undefined || thresholds.includes(name)) continue;
      faults.push({
        place: { document, container: conventions, key: name, onKey: true },
        what: `no rule has a threshold \`${name}\`${didYouMean(name, thresholds)}`,
        instead: '`rigproof explain RULE` lists the thresholds of a rule',
      });
    }
  }
  const at = locateAll(faults.map((fault) => fault.place));
  return faults.map(({ place, what, instead }) => ({ at: at(place), what, instead }));
}

/** In the order of files, lines, columns; then rule and subject. */
function sorted(findings: readonly Finding[], plan: Plan): readonly Finding[] {
  const order = new Map(plan.documents.map((document, index) => [document.name, index]));
  return [...findings].sort(
    (a, b) =>
      (order.get(a.at.file) ?? 0) - (order.get(b.at.file) ?? 0) ||
      a.at.line - b.at.line ||
      a.at.column - b.at.column ||
      byCodeUnit(a.rule, b.rule) ||
      byCodeUnit(a.subject, b.subject),
  );
}

function countsOf(plan: Plan): PlanCounts {
  return {
    devices: plan.devices.length,
    interfaces: plan.interfaces.length,
    senders: plan.senders.length,
    legs: plan.legs.length,
    receivers: eachInput(plan.receivers).length,
    switches: plan.switches.length,
    links: plan.links.length,
    vlans: plan.vlans.length,
  };
}
