// Imported before anything else by the commands: what follows is written for a Node that stands.
// Vite, ESLint and knip ask for the same: 20.19 or later, and 22.13 or later in the 22 line.
const parts = process.versions.node.split('.').map(Number);
const major = parts[0] || 0;
const minor = parts[1] || 0;
const fits = major === 20 ? minor >= 19 : major === 22 ? minor >= 13 : major > 22;

if (!fits) {
  console.error(
    'Vampwright needs Node 20.19, 22.13 or later; this is Node ' +
      process.versions.node +
      '. Install a newer one from your system or from nodejs.org, then try again.',
  );
  process.exit(1);
}
