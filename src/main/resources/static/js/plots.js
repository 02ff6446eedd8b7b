/* Draws every plot of a page from the description in its attribute. The table behind each plot holds the same figures,
   so a page without this script loses nothing but the picture. */
(() => {
  "use strict";

  const { nonce, dataset: { library } } = document.currentScript;
  const DASHES = ["solid", [8, 4], [2, 3], [10, 4, 2, 4], [5, 2], [14, 4]];
  const SYMBOLS = ["circle", "rect", "triangle", "diamond", "pin", "arrow"];
  const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

  /* Colours stay the names of the page's tokens: the drawing is an SVG, so light, dark and print change it by themselves. */
  const token = (name) => `var(--colour-${name})`;
  const colour = (index) => token(`plot-${index + 1}`);

  const written = (value, axis) => {
    if (value === null || value === undefined) {
      return "–";
    }
    if (axis.scale === "category") {
      return axis.categories[value] ?? "";
    }
    if (axis.scale === "day") {
      const day = new Date(value);
      return `${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]} ${day.getUTCFullYear()}`;
    }
    const figure = axis.scale === "share" ? 100 * value : value;
    const digits = Number(figure.toPrecision(3)).toString().replace("-", "\u2212");
    return axis.scale === "share" ? `${digits} %` : digits;
  };

  /* On the axis a day needs its year only where the year begins. */
  const tick = (value, axis) => {
    if (axis.scale !== "day") {
      return written(value, axis);
    }
    const day = new Date(value);
    return day.getUTCMonth() === 0 && day.getUTCDate() < 8
      ? String(day.getUTCFullYear())
      : `${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]}`;
  };

  const axisOption = (axis, font) => ({
    type: { category: "category", day: "time", ratio: "log" }[axis.scale] ?? "value",
    data: axis.scale === "category" ? axis.categories : undefined,
    min: axis.min ?? undefined,
    max: axis.max ?? undefined,
    scale: axis.min === null,
    logBase: axis.scale === "ratio" ? 2 : undefined,
    boundaryGap: axis.scale === "category",
    axisLabel: {
      color: token("text-quiet"),
      hideOverlap: !axis.everyName,
      interval: axis.everyName ? 0 : undefined,
      formatter: axis.scale === "category" ? undefined : (value) => tick(value, axis),
      ...font,
    },
    axisTick: { show: true, lineStyle: { color: token("line-strong") } },
    axisLine: { show: true, lineStyle: { color: token("line-strong") } },
    splitLine: { show: false },
  });

  /* The corners of the band between the limits, one polygon for each unbroken run. */
  const runs = (series) => {
    const found = [];
    let run = [];
    series.points.forEach((point) => {
      if (point.low !== null && point.high !== null) {
        run.push(point);
      } else if (run.length) {
        found.push(run);
        run = [];
      }
    });
    if (run.length) {
      found.push(run);
    }
    return found.map((points) => {
      const edge = (limit) =>
        points.flatMap((point, i) =>
          series.shape === "step" && i > 0
            ? [
                [point.x, points[i - 1][limit]],
                [point.x, point[limit]],
              ]
            : [[point.x, point[limit]]],
        );
      return [...edge("low"), ...edge("high").reverse()];
    });
  };

  const limited = (series) => series.points.some((point) => point.low !== null && point.high !== null);

  const band = (series, index) => ({
    type: "custom",
    silent: true,
    z: 1,
    tooltip: { show: false },
    encode: { x: 0, y: [1, 2] },
    data: series.points.map((point) => [point.x, point.low, point.high]),
    clip: true,
    renderItem: (params, api) =>
      params.dataIndexInside === 0
        ? {
            type: "group",
            children: runs(series).map((corners) => ({
              type: "polygon",
              shape: { points: corners.map((corner) => api.coord(corner)) },
              style: { fill: colour(index), opacity: 0.18 },
            })),
          }
        : null,
  });

  const whiskers = (series, index) => ({
    type: "custom",
    silent: true,
    z: 2,
    tooltip: { show: false },
    encode: { x: 0, y: [1, 2] },
    data: series.points.filter((point) => point.low !== null && point.high !== null)
      .map((point) => [point.x, point.low, point.high]),
    renderItem: (params, api) => {
      const low = api.coord([api.value(0), api.value(1)]);
      const high = api.coord([api.value(0), api.value(2)]);
      const line = (from, to) => ({
        type: "line",
        shape: { x1: from[0], y1: from[1], x2: to[0], y2: to[1] },
        style: { stroke: colour(index), lineWidth: 1.5 },
      });
      return {
        type: "group",
        children: [
          line(low, high),
          line([low[0] - 5, low[1]], [low[0] + 5, low[1]]),
          line([high[0] - 5, high[1]], [high[0] + 5, high[1]]),
        ],
      };
    },
  });

  const lyingWhiskers = (series, index) => ({
    type: "custom",
    silent: true,
    z: 2,
    tooltip: { show: false },
    encode: { x: [1, 2], y: 0 },
    data: series.points.filter((point) => point.low !== null && point.high !== null)
      .map((point) => [point.y, point.low, point.high]),
    renderItem: (params, api) => {
      const low = api.coord([api.value(1), api.value(0)]);
      const high = api.coord([api.value(2), api.value(0)]);
      const line = (from, to) => ({
        type: "line",
        shape: { x1: from[0], y1: from[1], x2: to[0], y2: to[1] },
        style: { stroke: colour(index), lineWidth: 1.5 },
      });
      return {
        type: "group",
        children: [
          line(low, high),
          line([low[0], low[1] - 5], [low[0], low[1] + 5]),
          line([high[0], high[1] - 5], [high[0], high[1] + 5]),
        ],
      };
    },
  });

  const pointed = (series) => series.shape === "points" || series.shape === "lying";

  /* One line for each thing compared, all of them named. */
  const isForest = (plot) => plot.series.some((series) => series.shape === "lying");

  const FOREST_LINE = 26;

  const limits = (series, index) =>
    ({ points: whiskers, lying: lyingWhiskers })[series.shape]?.(series, index) ?? band(series, index);

  /* Single cases: there to be seen as a whole, not to be read one by one. */
  const behind = (points, index) => ({
    type: "line",
    id: `behind-${index}`,
    silent: true,
    z: 0,
    symbol: "none",
    tooltip: { show: false },
    lineStyle: { color: token("line-strong"), width: 1, opacity: 0.45 },
    emphasis: { disabled: true },
    data: points.map((point) => [point.x, point.y]),
  });

  const drawn = (series, index, many, font) => ({
    type: pointed(series) ? "scatter" : "line",
    name: series.name,
    id: `series-${index}`,
    z: 3,
    step: series.shape === "step" ? "end" : undefined,
    symbol: SYMBOLS[index],
    symbolSize: pointed(series) ? 9 : 6,
    showSymbol: series.shape === "line" && series.points.length <= 24,
    itemStyle: { color: colour(index) },
    lineStyle: { color: colour(index), width: 2, type: DASHES[index], cap: "butt" },
    emphasis: { disabled: true },
    endLabel:
      pointed(series)
        ? undefined
        : { show: many, formatter: "{a}", color: colour(index), distance: 8, fontWeight: 600, ...font },
    labelLayout: { moveOverlap: "shiftY" },
    data: series.points.map((point) => [point.x, point.y]),
  });

  const marks = (plot, font) => ({
    type: "line",
    data: [],
    markLine: {
      silent: true,
      symbol: "none",
      animation: false,
      lineStyle: { color: token("text"), width: 1, type: [3, 3] },
      label: { color: token("text"), backgroundColor: token("surface"), padding: [1, 4], distance: 4, ...font },
      data: plot.marks.map((mark) => ({
        [mark.axis === "x" ? "xAxis" : "yAxis"]: mark.at,
        label: { formatter: mark.label, position: mark.axis === "x" ? "end" : "insideEndTop" },
      })),
    },
  });

  const tooltip = (plot, font) => ({
    trigger: plot.series.some(pointed) ? "item" : "axis",
    confine: true,
    transitionDuration: 0,
    className: "plot__tip",
    borderWidth: 0,
    padding: 0,
    backgroundColor: "transparent",
    extraCssText: "box-shadow:none",
    textStyle: { color: token("text"), ...font },
    axisPointer: {
      type: "line",
      lineStyle: { color: token("line-strong"), type: "solid" },
      label: { show: false },
    },
    formatter: (hovered) => {
      const items = [hovered].flat().filter((item) => item.seriesId?.startsWith("series-"));
      if (!items.length) {
        return "";
      }
      const lines = items.map((item) => {
        const series = plot.series[Number(item.seriesId.slice(7))];
        const point = series.points[item.dataIndex];
        const limits =
          point.low !== null && point.high !== null
            ? ` (${written(point.low, series.shape === "lying" ? plot.x : plot.y)} to ${written(point.high, series.shape === "lying" ? plot.x : plot.y)})`
            : "";
        return `${series.name}: ${written(point.y, plot.y)}${limits}`;
      });
      const x = items[0].data[0];
      const tip = document.createElement("div");
      tip.className = "plot__reading";
      [`${plot.x.label}: ${written(x, plot.x)}`, ...lines].forEach((line) => {
        tip.append(Object.assign(document.createElement("p"), { textContent: line }));
      });
      return tip;
    },
  });

  const PRINTED_WIDTH = 640;

  /* Names stand beside the ends of the lines where there is room, else in a legend. */
  const ROOM_FOR_NAMES = 560;

  const option = (plot, width) => {
    const page = getComputedStyle(document.body);
    const font = { fontFamily: page.fontFamily, fontSize: 13 };
    const many = plot.series.length > 1;
    const named = many && (width < ROOM_FOR_NAMES || plot.series.some(pointed));
    const longest = Math.max(...plot.series.map((series) => series.name.length));
    return {
      animation: false,
      useUTC: true,
      textStyle: font,
      title: {
        text: plot.y.label,
        left: 0,
        top: 0,
        padding: 0,
        textStyle: { color: token("text-quiet"), fontWeight: 400, ...font },
      },
      grid: {
        left: 4,
        right: many && !named ? Math.min(180, 24 + 7.5 * longest) : 24,
        top: named ? 60 : 40,
        bottom: 26,
        containLabel: true,
      },
      legend: named
        ? { top: 22, left: 0, itemWidth: 30, itemHeight: 9, textStyle: { color: token("text"), ...font }, selectedMode: false, data: plot.series.map((series) => series.name) }
        : undefined,
      xAxis: {
        ...axisOption(plot.x, font),
        name: plot.x.label,
        nameLocation: "middle",
        nameGap: 32,
        nameTextStyle: { color: token("text-quiet"), ...font },
      },
      yAxis: {
        ...axisOption({ ...plot.y, everyName: isForest(plot) }, font),
        axisLine: { show: false },
        axisTick: { show: false },
        splitLine: { show: true, lineStyle: { color: token("plot-grid") } },
      },
      tooltip: tooltip(plot, font),
      series: [
        ...plot.behind.map(behind),
        ...plot.series.flatMap((series, index) => [
          ...(limited(series) ? [limits(series, index)] : []),
          drawn(series, index, many && !named, font),
        ]),
        marks(plot, font),
      ],
    };
  };

  /* The content security policy forbids the attribute style but not the same declarations through the object model. */
  const styleThroughObjectModel = () => {
    const setAttribute = SVGElement.prototype.setAttribute;
    SVGElement.prototype.setAttribute = function (name, value) {
      if (name === "style") {
        this.style.cssText = value;
      } else {
        setAttribute.call(this, name, value);
      }
    };
  };

  /* A picture stands alone: the colours of the page's tokens become what they are now, and title and note go with it. */
  const TITLE_LINE = 28;

  const NOTE_LINE = 18;

  const lines = (text, most) =>
    text.split(/\s+/).reduce((all, word) => {
      const last = all[all.length - 1];
      return last && last.length + word.length < most
        ? [...all.slice(0, -1), `${last} ${word}`]
        : [...all, word];
    }, []);

  const picture = (figure) => {
    const drawn = figure.querySelector(".plot__drawing svg");
    const page = getComputedStyle(document.body);
    const { width, height } = drawn.getBoundingClientRect();
    const make = (name, attributes, text) => {
      const element = document.createElementNS("http://www.w3.org/2000/svg", name);
      Object.entries(attributes).forEach(([attribute, value]) => element.setAttribute(attribute, value));
      element.textContent = text ?? "";
      return element;
    };
    const title = figure.querySelector(".plot__title").textContent.trim();
    const note = lines(figure.querySelector(".plot__note")?.textContent.trim() ?? "", Math.max(20, Math.floor(width / 6.5)))
      .filter((line) => line);
    const total = TITLE_LINE + height + NOTE_LINE * note.length + 12;
    const svg = make("svg", {
      viewBox: `-12 -12 ${width + 24} ${total + 24}`,
      width: width + 24,
      height: total + 24,
      role: "img",
      "font-family": page.fontFamily,
    });
    svg.append(
      make("title", {}, title),
      make("desc", {}, figure.querySelector(".plot__canvas").getAttribute("aria-label")),
      make("rect", { x: -12, y: -12, width: width + 24, height: total + 24, fill: token("surface") }),
      make("text", { x: 0, y: 16, "font-size": 16, "font-weight": 600, fill: token("text") }, title),
    );
    const inner = drawn.cloneNode(true);
    Object.entries({ x: 0, y: TITLE_LINE, width, height }).forEach(([name, value]) => inner.setAttribute(name, value));
    inner.removeAttribute("style");
    svg.append(inner);
    note.forEach((line, index) => {
      svg.append(
        make("text", { x: 0, y: TITLE_LINE + height + NOTE_LINE * (index + 1), "font-size": 12, fill: token("text-quiet") }, line),
      );
    });
    const text = new XMLSerializer()
      .serializeToString(svg)
      .replace(/var\((--[\w-]+)\)/g, (use, name) => page.getPropertyValue(name).trim() || "currentColor");
    return { text, title, width: width + 24, height: total + 24 };
  };

  const save = (address, title, ending) => {
    const name = title.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
    const link = Object.assign(document.createElement("a"), { href: address, download: `${name || "plot"}.${ending}` });
    link.click();
  };

  /* Twice the size, so that it is sharp on paper. */
  const PIXELS = 2;

  const asImage = ({ text, title, width, height }) => {
    const image = new Image();
    image.addEventListener("load", () => {
      const canvas = Object.assign(document.createElement("canvas"), {
        width: Math.ceil(width * PIXELS),
        height: Math.ceil(height * PIXELS),
      });
      canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
      save(canvas.toDataURL("image/png"), title, "png");
    });
    image.src = svgAddress(text);
  };

  const svgAddress = (text) => `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;

  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-plot-file]");
    if (!button) {
      return;
    }
    const drawing = picture(button.closest(".plot"));
    if (button.dataset.plotFile === "png") {
      asImage(drawing);
    } else {
      save(svgAddress(drawing.text), drawing.title, "svg");
    }
  });

  const drawAll = (root) => {
    root.querySelectorAll("[data-plot]:empty").forEach((canvas) => {
      const plot = JSON.parse(canvas.dataset.plot);
      if (isForest(plot)) {
        canvas.style.height = `${100 + FOREST_LINE * plot.y.categories.length}px`;
      }
      // in the page at its size before it is measured, since an empty place takes no room
      canvas.append(document.createElement("div"));
      canvas.firstChild.className = "plot__drawing";
      const chart = window.echarts.init(canvas.firstChild, null, { renderer: "svg" });
      const fit = (width) => {
        chart.resize({ width: width ?? "auto" });
        chart.clear();
        chart.setOption(option(plot, chart.getWidth()));
      };
      canvas.closest(".plot")?.querySelector("[data-plot-files]")?.removeAttribute("hidden");
      new ResizeObserver(() => fit()).observe(canvas);
      window.addEventListener("beforeprint", () => fit(PRINTED_WIDTH));
      window.addEventListener("afterprint", () => fit());
    });
  };

  const draw = (root) => {
    if (!root.querySelector("[data-plot]:empty")) {
      return;
    }
    if (window.echarts) {
      drawAll(root);
      return;
    }
    const script = document.createElement("script");
    script.src = library;
    script.nonce = nonce;
    script.addEventListener("load", () => {
      styleThroughObjectModel();
      drawAll(document);
    });
    document.head.append(script);
  };

  document.addEventListener("htmx:afterSettle", (event) => draw(event.detail.elt.parentElement ?? document));
  draw(document);
})();
