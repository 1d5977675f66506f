/** What a JSON file holds before anything is known about it. */
export type RawPlan = Readonly<Record<string, unknown>>;

/** One change of the file format, from a version to the next. */
export interface MigrationStep {
  /** The version this step starts from; it ends at `from + 1`. */
  readonly from: number;
  /** What changed, in a few words, for the message when the step fails. */
  readonly change: string;
  /** Never changes its input. Throws an Error that names the place where the file does not fit. */
  migrate(raw: RawPlan): RawPlan;
  /** Where a place of the later format stood in the earlier one. */
  placeBefore(place: string): string;
}

export type Migrated =
  | { ok: true; raw: RawPlan; ran: number[] }
  | { ok: false; at: number; reason: string };

/**
 * Brings a file from one version to another, one step at a time, and stamps each version reached.
 * A missing step or a step that throws is an answer, not an exception: the file stays as it is.
 */
export function migrate(
  raw: RawPlan,
  from: number,
  to: number,
  steps: readonly MigrationStep[],
): Migrated {
  let current = raw;
  const ran: number[] = [];
  for (let version = from; version < to; version++) {
    const step = steps.find((s) => s.from === version);
    if (!step)
      return { ok: false, at: version, reason: `no step leads on from version ${version}` };
    try {
      current = { ...step.migrate(current), version: version + 1 };
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return { ok: false, at: version, reason: `${step.change}: ${why}` };
    }
    ran.push(version);
  }
  return { ok: true, raw: current, ran };
}
