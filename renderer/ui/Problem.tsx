/** What went wrong, told at once; nothing where `text` is null or empty. */
export function Problem({ text, testId }: { text: string | null | undefined; testId?: string }) {
  if (!text) return null;
  return (
    <p className="field-problem" role="alert" data-testid={testId}>
      {text}
    </p>
  );
}
