#!/usr/bin/env bash
# rolling-upgrade.sh COMMIT: builds the version at that commit, and runs it beside this one on one database.
# Run from the top folder of the project.
set -euo pipefail
commit=${1:?the commit or tag of the version before}
previous=$(mktemp -d)
git worktree add --detach "$previous/source" "$commit" >/dev/null
trap 'git worktree remove --force "$previous/source"; rm -rf "$previous"' EXIT
(cd "$previous/source" && mvn -B -q compile)
mvn -B test -P proof -Dtest=RollingUpgradeTests -Dprevious.classes="$previous/source/target/classes"
