/** New numbers for rigs that get in each other's way, and the files that say so. */
import { append } from '../../collections/group-by.js';
import { applyEdits, type Edit } from '../../splice/edit.js';
import { writeEdits, type WrittenEdit } from '../../splice/written.js';
import { createModel, type Model } from '../../model/model.js';
import { isInterface, type Owner } from '../../model/hosts/index.js';
import type { Plan, Rig, Sender } from '../../plan/types.js';
import type { Document } from '../../source/document.js';
import type { Problem } from '../../source/problem.js';
import { leavesOut, partLike, wholeOf } from '../ancestor.js';
import { fileNames, type Joined } from '../files.js';
import { resolveSides, type Side } from '../sides.js';
import { alignIgmp } from './align-igmp.js';
import { alignPtp } from './align-ptp.js';
import { findClashes, heldInPools } from './clashes.js';
import { movePools } from './move-pools.js';
import { createEditList } from '../../edits/edit-list.js';
import { fewestBoxes, type Choice } from './fewest-boxes.js';
import { moveAddresses } from '../../edits/move-addresses.js';
import { moveGroups } from '../../edits/move-groups.js';
import { moveSubnets } from './move-subnets.js';
import { settleQueriers } from './queriers.js';
import { settleVlanIds } from './vlan-ids.js';
import { writeAddresses, writeGroups } from '../../edits/write-moves.js';

/** A part of the work, as a report calls it. */
export type RepairStep =
  'VLAN ids' | 'subnets' | 'DHCP ranges' | 'query settings' | 'clock settings' | 'groups' | 'addresses' | 'queriers';

export interface Repair {
  /** As they came. */
  readonly before: Joined;
  /** With the new numbers; documents that nothing changes in are the same objects. */
  readonly after: Joined;
  readonly plan: Plan;
  /** What was written anew, by file and place, from the first value to the last. */
  readonly edits: readonly WrittenEdit[];
  /** Whose settings the others took over. */
  readonly counts: string;
  /** Boxes whose groups or addresses change, and the least number that would do. */
  readonly touched: number;
  readonly atLeast: number;
  /** What found no free number. */
  readonly stuck: readonly string[];
  /** What was left as it is because its change would make findings that are not there now. */
  readonly withheld: readonly RepairStep[];
  /** Places the program can't write into; then `after` is as far as it got. */
  readonly problems: readonly Problem[];
}

/** New numbers make new neighbours: it is looked again, a few times at most. */
const MOST_PASSES = 4;

/**
 * Renumbers. First what whole VLANs share (ids, subnets, query and clock settings), then the groups and addresses that
 * still clash. `model` is that of the rigs as they came, then that of the repaired ones: it is the same where nothing was
 * written. `keep`: the rig whose numbers stay; absent: in each clash whoever has fewer boxes to touch moves. `without`:
 * parts of the work that are left undone.
 */
export function repairJoined(
  before: Joined,
  modelBefore: Model,
  keep: string | undefined,
  without: ReadonlySet<RepairStep> = new Set(),
): { readonly repair: Repair; readonly model: Model } {
  const does = (step: RepairStep): boolean => !without.has(step);
  let joined = before;
  let model = modelBefore;
  const keptRig = model.plan.rigs.find(({ name }) => name === keep);
  const counts = keptRig ?? biggest(model.plan, before.sides);
  const fileName = fileNames(before);
  const written: WrittenEdit[] = [];
  let lasting: ReadonlySet<string> = new Set();
  let stuck: ReadonlySet<string> = new Set();
  let choice: Choice | undefined;
  let problems: readonly Problem[] = [];

  for (let pass = 0; pass <= MOST_PASSES && problems.length === 0; pass++) {
    const { plan } = model;
    const edits = createEditList();
    const roomless = new Set<string>();
    const rig = (name: string | undefined): Rig | undefined => plan.rigs.find((one) => one.name === name);
    if (pass === 0) {
      settle(model, rig(counts?.name), rig(keep), joined.joining.at(-1), edits, roomless, does);
      lasting = roomless;
      stuck = roomless;
    } else {
      const chosen = fewestBoxes(
        findClashes(model),
        rig(keep),
        rig(counts?.name),
        heldInPools(model, rig(counts?.name)),
      );
      choice ??= chosen;
      if (chosen.parts.length > 0) renumber(model, chosen, edits, roomless, does);
      else if (does('queriers')) settleQueriers(model, edits);
      // What one pass found no room for the next may.
      stuck = new Set([...lasting, ...roomless]);
    }
    const all = edits.all();
    if (all.length === 0 && pass > 0) break;
    if (all.length === 0) continue;
    const applied = apply(joined, all);
    problems = applied.problems;
    if (problems.length > 0) break;
    written.push(...writeEdits(all.map(onWhole), fileName));
    joined = applied.joined;
    const resolved = resolveSides(joined.sides, joined.joining);
    model = createModel(resolved.plan);
    // What was written must be a plan whose every name leads somewhere, as the old one was.
    problems = resolved.problems;
  }
  const repair: Repair = {
    before,
    after: joined,
    plan: model.plan,
    edits: everywhere(firstToLast(written), before, fileName),
    counts: counts?.name ?? '',
    touched: choice?.touched ?? 0,
    atLeast: choice?.atLeast ?? 0,
    stuck: [...stuck],
    withheld: [...without],
    problems,
  };
  return { repair, model };
}

/** The rig with the most boxes has the most to lose by new settings. */
function biggest(plan: Plan, sides: readonly Side[]): Rig | undefined {
  const names = new Set(sides.map(({ name }) => name));
  const boxes = new Map<Rig, number>();
  for (const { rig } of [...plan.devices, ...plan.switches]) boxes.set(rig, (boxes.get(rig) ?? 0) + 1);
  return plan.rigs
    .filter(({ name }) => names.has(name))
    .sort((a, b) => (boxes.get(b) ?? 0) - (boxes.get(a) ?? 0) || (a.name < b.name ? -1 : 1))[0];
}

type Edits = ReturnType<typeof createEditList>;

function settle(
  model: Model,
  counts: Rig | undefined,
  keep: Rig | undefined,
  agreement: Document | undefined,
  edits: Edits,
  stuck: Set<string>,
  does: (step: RepairStep) => boolean,
): void {
  if (counts === undefined) return;
  const { plan } = model;
  if (does('VLAN ids')) settleVlanIds(plan, counts, edits);
  if (does('subnets'))
    for (const vlan of moveSubnets(model, keep ?? counts, edits))
      stuck.add(`subnet of VLAN ${vlan.name} of ${vlan.rig.name}`);
  if (does('DHCP ranges'))
    for (const vlan of movePools(model, counts, edits))
      stuck.add(`DHCP range of VLAN ${vlan.name} of ${vlan.rig.name}`);
  if (does('query settings')) alignIgmp(plan, counts, edits);
  if (does('clock settings')) alignPtp(model.timing, counts, agreement, edits);
}

function renumber(
  model: Model,
  { parts }: Choice,
  edits: Edits,
  stuck: Set<string>,
  does: (step: RepairStep) => boolean,
): void {
  if (does('groups')) {
    const senders = new Set<Sender>(parts.flatMap(({ legs }) => legs.map(({ sender }) => sender)));
    const groups = moveGroups(model, senders);
    for (const sender of groups.stuck) stuck.add(`group of ${sender.label} of ${sender.rig.name}`);
    writeGroups(model, groups.moves, edits);
  }
  if (!does('addresses')) return;
  const addresses = moveAddresses(
    model,
    parts.flatMap(({ held }) => held),
  );
  for (const owner of addresses.stuck) stuck.add(`address of ${ownerName(owner)}`);
  writeAddresses(model, addresses.moves, edits);
}

function ownerName(owner: Owner): string {
  const box = isInterface(owner) ? owner.device : owner.switch;
  return `${box.name} of ${box.rig.name}`;
}

function apply(
  joined: Joined,
  edits: readonly Edit[],
): { readonly joined: Joined; readonly problems: readonly Problem[] } {
  const byDocument = new Map<Document, Edit[]>();
  for (const edit of edits) {
    append(byDocument, edit.document, edit);
  }
  const problems: Problem[] = [];
  const renewed = (document: Document): Document => {
    const own = byDocument.get(document);
    if (own === undefined) return document;
    const whole = wholeOf(document);
    const applied = applyEdits(
      whole,
      own.map((edit) => ({ ...edit, document: whole })),
    );
    if (applied.text === undefined) {
      problems.push(...applied.problems);
      return document;
    }
    return partLike(document, applied.document);
  };
  const sides = joined.sides.map((side) => ({ ...side, documents: side.documents.map(renewed) }));
  const joining = joined.joining.map(renewed);
  return { joined: { sides, joining }, problems };
}

function onWhole(edit: Edit): Edit {
  return { ...edit, document: wholeOf(edit.document) };
}

/** One entry a place, however often it was written. */
function firstToLast(written: readonly WrittenEdit[]): readonly WrittenEdit[] {
  const byPlace = new Map<string, WrittenEdit>();
  for (const edit of written) {
    const key = JSON.stringify([edit.file, edit.path]);
    const known = byPlace.get(key);
    byPlace.set(key, known === undefined ? edit : { ...known, new: edit.new });
  }
  return [...byPlace.values()];
}

/** What several sides have from their ancestor is written anew in the files of all of them. */
function everywhere(
  written: readonly WrittenEdit[],
  { sides }: Joined,
  fileName: (document: Document) => string,
): readonly WrittenEdit[] {
  const parts = sides.flatMap(({ documents }) => documents).filter((document) => wholeOf(document) !== document);
  if (parts.length === 0) return written;
  return written.flatMap((edit) => {
    const [list, entry] = edit.path;
    if (typeof list !== 'string' || typeof entry !== 'object') return [edit];
    return [
      edit,
      ...parts
        .filter((document) => leavesOut(document, list, entry.name))
        .map((document) => ({ ...edit, file: fileName(document) })),
    ];
  });
}
