import { InputError } from "../../core/errors.ts";
import { fieldEdit } from "../../core/record/edits.ts";
import { TOOL_KINDS, type Tool } from "../../core/record/index.ts";
import { idFrom } from "../../core/record/written/index.ts";
import { asHighAs, Cell, Choice, NewRow } from "./cell.tsx";
import type { GridProps } from "./parts-grid.tsx";

/** Tools by the law's kinds, and which of them heat. */
export function ToolsGrid({ tools, latest, edit }: GridProps & { readonly tools: readonly Tool[] }) {
  const set = (tool: Tool, field: keyof Tool, value: unknown) =>
    edit([fieldEdit("tools", tool.id, field, value)], `${field} of ${tool.name}`);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
      <section className="table grid" style={asHighAs(tools.length)} aria-label="Tools to fill in" tabIndex={0}>
        <table>
          <caption>Tools, by the kinds of the law</caption>
          <thead>
            <tr>
              <th scope="col">tool</th>
              <th scope="col">kind</th>
              <th scope="col">heats</th>
              <th scope="col">
                <span className="unseen">take away</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tools.map((tool) => (
              <tr key={tool.id}>
                <th scope="row">
                  <Cell
                    label={`name of ${tool.id}`}
                    value={tool.name}
                    take={(text) => set(tool, "name", text.trim())}
                  />
                  <span className="soft grid-id">{tool.id}</span>
                </th>
                <td>
                  <Choice
                    label={`kind of ${tool.id}`}
                    value={tool.kind}
                    options={TOOL_KINDS}
                    take={(kind) => void set(tool, "kind", kind)}
                  />
                </td>
                <td>
                  <label className="grid-switch">
                    <input
                      type="checkbox"
                      checked={tool.heatSource === true}
                      onChange={(event) => void set(tool, "heatSource", event.target.checked ? true : undefined)}
                    />
                    <span className="unseen">{tool.id} heats</span>
                  </label>
                </td>
                <td>
                  <button
                    type="button"
                    className="quiet"
                    onClick={() =>
                      void edit([{ kind: "remove", list: "tools", id: tool.id }], `${tool.name} taken away`)
                    }
                  >
                    take away<span className="unseen"> {tool.name}</span>
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <NewRow
        label="a tool more"
        placeholder="ph000: Phillips driver #000, basic"
        make={(text) => {
          const { id, name, kind } = readTool(text, latest.current.tools);
          return edit([{ kind: "put", list: "tools", item: { id, name, kind } }], `tool ${name}`);
        }}
      />
    </>
  );
}

/** "ph000: Phillips driver #000, basic": a short id where wanted, the name, the law's kind. */
export function readTool(text: string, tools: readonly Tool[]): Tool {
  const words = /^(?:\s*([^:\s]+)\s*:)?\s*(.+?)(?:\s*,\s*([a-z -]+))?\s*$/i.exec(text);
  const kindWord = words?.[3]?.trim().toLowerCase().replaceAll(/\s+/g, "-");
  const kind = TOOL_KINDS.find((one) => one === (kindWord ?? "basic"));
  if (words === null || kind === undefined)
    throw new InputError({
      path: "",
      found: `"${text}"`,
      expected: `a name, and behind a comma its kind: ${TOOL_KINDS.join(", ").replaceAll("-", " ")}`,
    });
  const name = words[2]!;
  const taken = tools.map((one) => one.id);
  return { id: idFrom(words[1] ?? name, taken), name, kind };
}
