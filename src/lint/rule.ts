/** What a rule is: the contract between the engine and the rules. */
import type { FactKey } from '../model/facts.js';
import type { Model } from '../model/model.js';
import type { Denial } from '../model/verdicts/index.js';
import type { Plan, Rig, Waiver } from '../plan/types.js';
import type { Citation } from './citation.js';
import type { Harm } from './effect.js';
import type { Confidence, FindingDraft, FindingWords, Severity } from './finding.js';

/** A number a profile or conventions may change. */
export interface Threshold {
  readonly default: number;
  /** What it limits, with its unit. */
  readonly what: string;
}

/** What became of a waiver once every rule had run. */
export interface WaiverUse {
  readonly waiver: Waiver;
  /** `idle`: no finding matches it. `expired`: its last day is past, so its finding counts again. */
  readonly state: 'used' | 'idle' | 'expired';
}

export interface RuleContext {
  readonly plan: Plan;
  /** What the network does with the plan; every part computed once, on first use. */
  readonly model: Model;
  /**
   * A threshold this rule declares, for what belongs to a rig: the profile's value, else that of the rig's conventions, else the
   * default. What is several rigs' own is judged by the first party's, or asked of each: the rule says which.
   */
  readonly threshold: (name: string, rig: Rig) => number;
  /**
   * A threshold of another rule, by its whole name `family/fault.name`, where two rules must not speak of one fault;
   * undefined where the other rule does not judge this plan.
   */
  readonly thresholdElsewhere: (key: string, rig: Rig) => number | undefined;
  /** For rules of the `waivers` stage; empty before. */
  readonly waivers: readonly WaiverUse[];
}

/** `Facts` and `Note` are what its findings carry; the engine and the reports know neither. */
export interface Rule<Facts extends object = object, Note = unknown> {
  /** `family/fault`, equal to the rule's folder below `rules/`. */
  readonly id: string;
  /** One line that names the fault. */
  readonly summary: string;
  readonly severity: Severity;
  /** How sure its findings are, unless one says otherwise; `certain` when absent. */
  readonly confidence?: Confidence;
  readonly sources: readonly Citation[];
  /** Facts without which the rule can say nothing; the summary reports those a plan lacks. */
  readonly needs: readonly FactKey[];
  /** Why people alone can mend its findings, as the end of "people decide: …"; absent where drafts say a cure. */
  readonly people?: string;
  /** Why a receiver leg is not delivered, where a finding of this rule says it and names who is concerned. */
  readonly explains?: readonly Denial[];
  /** The fault in a few words that follow on the name of what has it: `two senders on one group`; the summary when absent. */
  readonly brief?: string;
  /**
   * What its findings do to streams that arrive, for all or by severity. Absent where nobody can say without following what
   * no verdict follows: reports say so.
   */
  readonly harm?: Harm | Readonly<Partial<Record<Severity, Harm>>>;
  readonly thresholds?: Readonly<Record<string, Threshold>>;
  /** `waivers`: runs after the findings of all other rules have met the waivers. */
  readonly stage?: 'waivers';
  /** Pure: asks the plan and the model, yields one draft per cause, in plan order. */
  check(context: RuleContext): Iterable<FindingDraft<Facts, Note>>;
  /** Words the facts of one finding; called only where somebody reads them. */
  words(facts: Facts): FindingWords<Note>;
}

/** Ties what `check` yields to what `words` takes, and checks the shape. */
export function defineRule<Facts extends object, Note = never>(rule: Rule<Facts, Note>): Rule {
  return rule as Rule;
}
