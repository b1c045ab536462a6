# The texts of examples/*.yaml as a source file:
#   cmake -D OUTPUT=... -D "EXAMPLES=a.yaml;b.yaml" -P page_examples.cmake
cmake_policy(VERSION 3.25)
set(out "#include \"page/examples.hpp\"\n\nnamespace thole::page {\n\nconst Example examples[] = {\n")
foreach(file IN LISTS EXAMPLES)
  file(READ ${file} text)
  cmake_path(GET file STEM id)
  string(APPEND out "    {\"${id}\", R\"==(${text})==\"},\n")
endforeach()
list(LENGTH EXAMPLES count)
string(APPEND out "};\nconst std::size_t example_count = ${count};\n\n}  // namespace thole::page\n")
file(WRITE ${OUTPUT} "${out}")
