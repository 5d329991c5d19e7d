// Apache PDFBox Preflight, a validator of PDF/A-1b that does not know our writer. Debian: libpdfbox2-java.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Lack } from '../../tools/skipping.ts'

const folder = '/usr/share/java'
const jars = ['preflight', 'pdfbox2', 'fontbox2', 'xmpbox', 'commons-logging', 'javax.activation', 'jaxb-api']
const jarFile = (name: string): string => join(folder, `${name}.jar`)

const source = `
import java.io.File;
import org.apache.pdfbox.preflight.PreflightDocument;
import org.apache.pdfbox.preflight.ValidationResult;
import org.apache.pdfbox.preflight.parser.PreflightParser;
public class Validate {
  public static void main(String[] files) throws Exception {
    for (String file : files) {
      PreflightParser parser = new PreflightParser(new File(file));
      parser.parse();
      try (PreflightDocument document = parser.getPreflightDocument()) {
        document.validate();
        for (ValidationResult.ValidationError error : document.getResult().getErrorsList())
          System.out.println(error.getErrorCode() + " " + error.getDetails());
        System.out.println(document.getResult().isValid() ? "VALID" : "NOT VALID");
      }
    }
  }
}`

export function lacksPreflight(): Lack {
  if (spawnSync('java', ['-version']).error !== undefined)
    return 'java is not installed (Debian: default-jdk)'
  const missing = jars.filter((name) => !existsSync(jarFile(name)))
  return missing.length === 0
    ? null
    : `Apache PDFBox Preflight is not installed: ${missing.join(', ')} (Debian: libpdfbox2-java, libactivation-java, libjaxb-api-java)`
}

/** What Preflight says of a file: its complaints, then VALID or NOT VALID. */
export function preflight(file: string): readonly string[] {
  const place = mkdtempSync(join(tmpdir(), 'lintelbook-preflight-'))
  try {
    const program = join(place, 'Validate.java')
    writeFileSync(program, source)
    const { stdout, stderr } = spawnSync('java', ['-cp', jars.map(jarFile).join(':'), program, file], {
      encoding: 'utf8',
    })
    const said = stdout.trim()
    if (said === '') throw new Error(`Preflight said nothing: ${stderr.slice(0, 400)}`)
    return said.split('\n')
  } finally {
    rmSync(place, { recursive: true, force: true })
  }
}
