/** What a developer needs to find the fault; nothing of the plan. */
export function detailsOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return [`${error.name}: ${error.message}`, error.stack ?? ''].join('\n');
}
