import { peopleDecide, type Cure } from '../edits/cure.js';
import type { Location, Place } from '../source/document.js';
import type { Entity, Receiver } from '../plan/types.js';
import type { Citation } from './citation.js';
import type { Effect } from './effect.js';

/** The words of SARIF 2.1.0 §3.27.10, worst first. */
export const SEVERITIES = ['error', 'warning', 'note'] as const;
export type Severity = (typeof SEVERITIES)[number];

/** What the crew has to put a hand on to mend it. */
export type TouchKind = 'device' | 'switch' | 'link' | 'vlan' | 'network' | 'stream' | 'plan';

export interface Touch {
  readonly kind: TouchKind;
  readonly name: string;
}

/**
 * How sure a finding is, apart from how bad. `certain`: all it rests on is stated in the plan or set by a standard.
 * `likely`: a habit of the trade makes it a fault (names told apart on the radio, a tenth kept free, a usual packet
 * time), so a plan may be meant so. `assumed`: it depends on something the plan does not state.
 */
export const CONFIDENCES = ['certain', 'likely', 'assumed'] as const;
export type Confidence = (typeof CONFIDENCES)[number];

/** A place and who or what stands there; `note` is the rule's own, and worded by it. */
export interface Mark<Note = unknown> {
  readonly place: Place;
  /** Name of what stands there: `cam-3/video leg 1`. */
  readonly label: string;
  readonly note?: Note | undefined;
  /** What of the plan stands there; `mark` fills it in. */
  readonly of?: Entity | undefined;
}

/**
 * What a rule yields; the engine adds the rule's id, severity and sources. `facts` is plain data: entities of the plan,
 * names, canonical addresses, numbers with their unit in the key (`rateBps`), lists and records of those.
 */
export interface FindingDraft<Facts extends object = object, Note = unknown> {
  /**
   * Stable key of what the finding is about: never a line, never wording, never the order of entries.
   * Example: `239.10.1.1 in red`. Where two findings of one rule share it, the engine adds a party to each.
   */
  readonly subject: string;
  /** Names of everything involved, in any order; the engine sorts them. */
  readonly parties?: readonly string[];
  readonly facts: Facts;
  /** The place to change first. */
  readonly at: Mark<Note>;
  /** Every other place involved. */
  readonly others?: readonly Mark<Note>[];
  readonly touch: Touch;
  /**
   * Only where neither its places nor its facts hold them: the receivers that what the rule's `harm` says is true of.
   */
  readonly hits?: readonly Receiver[];
  /** Only where one rule has a worse and a lesser form. */
  readonly severity?: Severity;
  /** Only where it differs from the rule's own. */
  readonly confidence?: Confidence;
  /**
   * How it is mended, as edits of the plan; called only where somebody wants to see or make them, in the order of the
   * findings. Absent where people alone can: `people` of its rule says why.
   */
  readonly cure?: () => Cure;
  /** Only where not all of the rule's sources bear on this finding: those that do. */
  readonly sources?: readonly Citation[];
}

/** A finding in words. */
export interface FindingWords<Note = unknown> {
  /** What is wrong, one sentence, with the values. */
  readonly what: string;
  /** What will be seen or heard on air, and when. */
  readonly onAir: string;
  /** What to change. */
  readonly fix: string;
  /** What is wrong in a few words, where it says more than the rule's own `brief`. */
  readonly brief?: string;
  /** The label of a place that has a note; places without one keep their name. */
  readonly label?: (name: string, note: Note) => string;
}

/** Words the facts of one rule's findings. Pure. */
export type Wording<Facts extends object = object, Note = unknown> = (facts: Facts) => FindingWords<Note>;

export interface LabelledLocation extends Location {
  readonly label: string;
  readonly note?: unknown;
  /** The rig whose file this is, where several are told apart. */
  readonly side?: string;
}

export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly confidence: Confidence;
  readonly subject: string;
  readonly parties: readonly string[];
  /** What is wrong, as data; `findingText` words it. */
  readonly facts: object;
  readonly wording: Wording;
  /** What has the fault, and the fault in a few words: `home-gateway/programme`, `joins another group`. */
  readonly brief: { readonly of: string; readonly fault: string };
  /** What it does to the show. */
  readonly effect: Effect;
  /** Names of the devices and switches it is about. */
  readonly boxes: readonly string[];
  /** How it is mended, worked out when asked, once; `findingCure` asks. Absent where its rule says nothing of it. */
  readonly curing?: () => Cure;
  readonly at: LabelledLocation;
  readonly others: readonly LabelledLocation[];
  readonly touch: Touch;
  readonly sources: readonly Citation[];
}

/** What a baseline records of a finding: rule and subject together name it. */
export interface FindingKey {
  readonly rule: string;
  readonly subject: string;
}

/** A finding worded, its places labelled. */
export interface FindingText {
  readonly what: string;
  readonly onAir: string;
  readonly fix: string;
  /** What is wrong, in a few words that follow on the name of what has it. */
  readonly brief: string;
  readonly at: string;
  readonly others: readonly string[];
}

/**
 * Called once for each finding, where a report or a test wants words. A rule of the conventions' own that can't word what it
 * found is said by name: its finding stands all the same.
 */
export function findingText(finding: Finding): FindingText {
  const { facts, wording } = finding;
  try {
    return textOf(shaped(wording(facts)), finding);
  } catch (error) {
    return textOf(unworded(finding, error), finding);
  }
}

function textOf({ what, onAir, fix, brief, label }: FindingWords, finding: Finding): FindingText {
  const { at, others } = finding;
  const labelOf = ({ label: name, note, side }: LabelledLocation): string =>
    `${side === undefined ? '' : `${side}: `}${label === undefined || note === undefined ? name : text(label(name, note), 'label')}`;
  return { what, onAir, fix, brief: brief ?? finding.brief.fault, at: labelOf(at), others: others.map(labelOf) };
}

/** A rule of the conventions' own may be plain JavaScript, which no compiler has looked at. */
function shaped(words: FindingWords): FindingWords {
  if (typeof words !== 'object' || (words as object | null) === null) throw new Error('`words` gives no object');
  const { what, onAir, fix, brief, label } = words;
  if (label !== undefined && typeof label !== 'function') throw new Error('`label` is no function');
  return {
    what: text(what, 'what'),
    onAir: text(onAir, 'onAir'),
    fix: text(fix, 'fix'),
    ...(brief === undefined ? {} : { brief: text(brief, 'brief') }),
    ...(label === undefined ? {} : { label }),
  };
}

function text(value: unknown, key: string): string {
  if (typeof value !== 'string') throw new Error(`\`${key}\` is no text`);
  return value;
}

function unworded({ rule, subject }: Finding, error: unknown): FindingWords {
  const why = error instanceof Error ? error.message : String(error);
  return {
    what: `${rule} found something about ${subject} and can't word it: ${why}`,
    onAir: 'not known: the rule has no words for it',
    fix: `mend the \`words\` of ${rule}, then lint again`,
  };
}

/** What a finding is known by from run to run: never a line, never wording. */
export function findingKey({ rule, subject }: Pick<Finding, 'rule' | 'subject'>): string {
  return `${rule}\n${subject}`;
}

/**
 * How a finding is mended. Ask in the order of a result's findings: a free number is offered once. A rule of the conventions'
 * own that fails at it leaves the cure to people.
 */
export function findingCure({ rule, curing }: Finding): Cure {
  if (curing === undefined) return peopleDecide('the program knows no edits for it');
  try {
    return curing();
  } catch (error) {
    return peopleDecide(`${rule} can't say its edits: ${error instanceof Error ? error.message : String(error)}`);
  }
}
