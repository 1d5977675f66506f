/**
 * Which file this tab has open, told to the other tabs by a shared lock of the file's name. A lock
 * ends with its tab.
 */
export class HeldFile {
  private release: () => void = () => undefined;

  constructor(private readonly locks: LockManager) {}

  /** This tab has the file open from now on and no other; null: none. False: another tab has it. */
  async hold(key: string | null): Promise<boolean> {
    this.release();
    this.release = () => undefined;
    if (key === null) return true;
    const name = `evenrack-file-${key}`;
    await new Promise<void>((held) => {
      void this.locks.request(name, { mode: 'shared' }, () => {
        held();
        return new Promise<void>((end) => {
          this.release = end;
        });
      });
    });
    const { held = [] } = await this.locks.query();
    return held.filter((lock) => lock.name === name).length === 1;
  }
}
