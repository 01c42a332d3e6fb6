// The page's own source: every file is checked for types, with the packages that it is built with.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const packages = resolve(process.argv[3]), web = resolve(import.meta.dirname, "../../web");
const folder = mkdtempSync(join(tmpdir(), "leat-types-"));
writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ extends: join(web, "tsconfig.json"), include: [join(web, "*.ts")],
  compilerOptions: { paths: { uplot: [join(packages, "node_modules/uplot")] } } }));
const done = spawnSync(process.execPath, [join(packages, "node_modules/typescript/bin/tsc"), "-p", folder], { encoding: "utf8" });
rmSync(folder, { recursive: true });
console.log(done.status === 0 ? "ok    every file of the page has sound types" : `FAIL  types\n${done.stdout}${done.stderr}`);
process.exit(done.status === 0 ? 0 : 1);
