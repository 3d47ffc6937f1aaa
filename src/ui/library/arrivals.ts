import type { Project } from '../../engine/index.ts';

/** Charts that came from elsewhere and that nobody has changed since. */
export class Arrivals {
  readonly #asTheyCame = new Map<string, string>();

  add(project: Project): void {
    this.#asTheyCame.set(project.id, said(project));
  }

  /** True while the chart is as it came; the first change makes it the player's own for good. */
  isAsItCame(project: Project): boolean {
    const came = this.#asTheyCame.get(project.id);
    if (came === undefined) return false;
    if (came === said(project)) return true;
    this.makeOwn(project.id);
    return false;
  }

  /** True when it was not the player's own before. */
  makeOwn(id: string): boolean {
    return this.#asTheyCame.delete(id);
  }
}

/** What a chart says, whatever its id. */
const said = (project: Project) => JSON.stringify({ ...project, id: '' });
