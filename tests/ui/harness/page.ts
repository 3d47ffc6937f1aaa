/** The page with a silent player, for looking at it: `?chart=<preset>&loop=…`. */
import { mount } from 'svelte';
import { beats, newProject, bpm, type Project } from '../../../src/engine/index.ts';
import App from '../../../src/ui/App.svelte';
import { Session } from '../../../src/ui/session.svelte.ts';
import { readProject } from '../../../src/storage/file.ts';
import { FakePlayer } from './player.ts';

const files = import.meta.glob<string>('../../../presets/charts/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const presets = Object.entries(files).map(([path, text]) => {
  const read = readProject(text);
  const project = read.ok ? read.value.project : newProject({ title: path });
  return { id: path, title: project.title, sentence: project.words, project };
});
const query = new URLSearchParams(location.search);
const project: Project =
  presets.find(({ id }) => id.includes(query.get('chart') ?? '01-'))?.project ??
  newProject({ title: 'Two-five-one', text: query.get('text') ?? 'C7alt | % | % | % |' });
const text = query.get('text');
const session = new Session({
  player: new FakePlayer(() => performance.now() / 1000),
  presets,
  project: text === null ? project : { ...project, text },
});
Object.assign(window, { session, beats, bpm });
mount(App, { target: document.querySelector('#app')!, props: { session } });
