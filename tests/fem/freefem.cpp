#include "freefem.h"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "mesh.h"

namespace warmside::fem {

namespace {

namespace fs = std::filesystem;

struct Said {
    int status = -1;
    std::string text;
};

Said run(const std::string& command) {
    Said said;
    FILE* pipe = popen((command + " 2>&1").c_str(), "r");
    if (!pipe) return said;
    char part[4096];
    while (std::fgets(part, sizeof part, pipe)) said.text += part;
    said.status = pclose(pipe);
    return said;
}

// A folder of one's own, gone at the end.
class Folder {
public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "warmside-fem-XXXXXX").string();
        if (mkdtemp(name.data())) path_ = name;
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove_all(path_, ignored);
    }
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
    fs::path path_;
};

// FreeFEM keeps a face that has an edge on whose left it lies. Edges that run towards growing x have the face
// above on their left, and every face has one below it; the outermost run round the domain.
std::string meshing_script(const Graph& graph, const std::string& ends_path, const std::string& out) {
    double low = 1e300, high = -1e300, left = 1e300, right = -1e300;
    for (const auto& p : graph.node) {
        low = std::min(low, p[1]), high = std::max(high, p[1]);
        left = std::min(left, p[0]), right = std::max(right, p[0]);
    }
    // As a file: a list in the script may not be longer than 1024.
    std::ofstream ends(ends_path);
    ends << graph.edge.size() << '\n';
    for (const auto& e : graph.edge) {
        auto a = graph.node[e[0]], b = graph.node[e[1]];
        const auto on = [&](std::size_t axis, double value) {
            return std::abs(a[axis] - value) < 1e-8 && std::abs(b[axis] - value) < 1e-8;
        };
        bool turn = a[0] > b[0];
        if (on(1, high)) turn = a[0] < b[0];
        if (on(0, right)) turn = a[1] > b[1];
        if (on(0, left)) turn = a[1] < b[1];
        if (turn) std::swap(a, b);
        ends << fmt::format("{:.12g} {:.12g} {:.12g} {:.12g}\n", a[0], a[1], b[0], b[1]);
    }
    return fmt::format(R"(
int n;
ifstream ends("{}");
ends >> n;
real[int] E0(n),E1(n),E2(n),E3(n);
for (int i=0; i<n; ++i) ends >> E0[i] >> E1[i] >> E2[i] >> E3[i];
border all(t=0,1;i) {{ x=(1-t)*E0[i]+t*E2[i]; y=(1-t)*E1[i]+t*E3[i]; label=1; }}
int[int] pieces(n); pieces=1;
mesh Th=buildmesh(all(pieces),fixedborder=true,nbvx=2000000);
savemesh(Th,"{}");
)",
                       ends_path, out);
}

std::string solving_script(const conduction::Model& model, const Mesh& mesh, const std::string& path) {
    const bool solid = mesh.solid;
    const std::size_t n = model.environments.size();
    std::vector<double> conductivity;
    for (const auto& region : model.regions) conductivity.push_back(std::max(region.conductivity, 1e-12));
    const std::string z = solid ? "+dz(A)*dz(B)" : "";
    std::string films, loads;
    for (std::size_t f = 0; f < mesh.film.size(); ++f) {
        const std::string integral = fmt::format("{}(Th,{},qforder=5)", solid ? "int2d" : "int1d", f + 1);
        const double h = 1.0 / mesh.film[f].resistance;
        films += fmt::format(" + {}({:.17g}*u*v)", integral, h);
        loads += fmt::format(" + {}({:.17g}*(e=={})*v)", integral, h, mesh.film[f].environment);
    }
    // a(u_i, u_j) = w_i A w_j - w_i b_j - w_j b_i for i other than j; the weights add up to one.
    return fmt::format(R"(
{mesh_type} Th={read}("{path}");
fespace Kh(Th,{p0}); fespace Vh(Th,{p2});
real[int] conductivity=[{k:.17g}];
Kh k=conductivity[int(region)-1];
macro gradients(A,B) (dx(A)*dx(B)+dy(A)*dy(B){z}) //
varf form(u,v)={whole}(Th,qforder=3)(k*gradients(u,v)){films};
matrix A=form(Vh,Vh,solver={solver});
int last={count}-1;
real[int,int] w(Vh.ndof,{count}),b(Vh.ndof,{count}),Aw(Vh.ndof,{count});
real[int] rest(Vh.ndof); rest=1.;
for (int e=0; e<{count}; ++e) {{
  varf warm(u,v)={loads};
  real[int] be=warm(0,Vh),we(Vh.ndof);
  we=rest;
  if (e<last) we=A^-1*be;
  rest-=we;
  real[int] Awe=A*we;
  w(:,e)=we; b(:,e)=be; Aw(:,e)=Awe;
}}
cout.precision(15);
cout << "elements " << Th.nt << " unknowns " << Vh.ndof << endl;
for (int i=0; i<{count}; ++i) for (int j=0; j<{count}; ++j) {{
  real[int] wi=w(:,i),wj=w(:,j),bi=b(:,i),bj=b(:,j),Awj=Aw(:,j);
  real energy=wi'*Awj; energy-=wi'*bj; energy-=wj'*bi;
  cout << "form " << i << " " << j << " " << energy << endl;
}}
)",
                       fmt::arg("mesh_type", solid ? "mesh3" : "mesh"),
                       fmt::arg("read", solid ? "readmesh3" : "readmesh"), fmt::arg("path", path),
                       fmt::arg("p0", solid ? "P03d" : "P0"), fmt::arg("p2", solid ? "P23d" : "P2"),
                       fmt::arg("k", fmt::join(conductivity, ",")), fmt::arg("z", z),
                       fmt::arg("whole", solid ? "int3d" : "int2d"), fmt::arg("films", films),
                       fmt::arg("loads", loads.substr(3)), fmt::arg("count", n),
                       fmt::arg("solver", solid ? "CG,eps=1e-10" : "sparsesolver"));
}

}  // namespace

bool there_is_freefem() {
    static const bool there = run("command -v FreeFem++").status == 0;
    return there;
}

Solution solve(const conduction::Model& model, const Sizes& sizes) {
    Solution out;
    const Folder folder;
    const auto fem = [&](const std::string& name, const std::string& script) {
        std::ofstream(folder.file(name)) << script;
        return run("FreeFem++ -nw -v 0 " + folder.file(name));
    };
    const bool solid = model.geometry == conduction::Geometry::solid;
    Mesh mesh;
    if (solid && follows_axes(model)) {
        mesh = cut_rectangles(levels_of(model, sizes, 0), levels_of(model, sizes, 1));
    } else {
        const std::string plane = folder.file("plane.msh");
        const Said meshed =
            fem("mesh.edp", meshing_script(graph_of(model, sizes), folder.file("edges.txt"), plane));
        if (meshed.status != 0) {
            out.trouble = meshed.text;
            return out;
        }
        mesh = read_triangles(plane);
    }
    if (solid) mesh = pulled(mesh, levels_of(model, sizes, 2));
    mesh = material_of(model, std::move(mesh));
    const std::string path = folder.file(solid ? "material.mesh" : "material.msh");
    write(mesh, path);
    const Said solved = fem("solve.edp", solving_script(model, mesh, path));
    if (const char* keep = std::getenv("WARMSIDE_FEM_KEEP"))
        fs::copy(folder.file(""), keep, fs::copy_options::recursive | fs::copy_options::overwrite_existing);
    const std::size_t n = model.environments.size();
    out.coupling.assign(n * n, 0.0);
    std::istringstream lines(solved.text);
    std::string word;
    std::size_t forms = 0;
    while (lines >> word) {
        if (word == "elements") lines >> out.elements >> word >> out.unknowns;
        if (word != "form") continue;
        std::size_t i = 0, j = 0;
        double value = 0.0;
        lines >> i >> j >> value;
        if (i != j) out.coupling[i * n + j] = -value;
        ++forms;
    }
    if (solved.status != 0 || forms != n * n) out.trouble = solved.text;
    return out;
}

}  // namespace warmside::fem
